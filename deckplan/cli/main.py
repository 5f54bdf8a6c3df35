"""The command line: reads what was typed, hands it to one function per command, turns failures into sentences.

Exit status: 0 everything passes; 1 something fails or lies outside the rules; 2 the input could not be read.
Everything heavy is imported by the command that needs it, so that `deckplan --help` answers at once.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import re
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, NoReturn

from deckplan import __version__
from deckplan.cli.values import (
    board,
    file_name,
    footing_load,
    length,
    overhang,
    post_width,
    psf,
    riser_rise,
    soil,
    spacing,
)
from deckplan.cli.views import PLAN, VIEWS, views_text
from deckplan.errors import DeckplanError

PASSES, FAILS, UNREADABLE = 0, 1, 2


@dataclass(frozen=True)
class Reply:
    """What a command answers: the object for --json, the text for people, the exit status."""

    data: dict[str, Any]
    text: str
    status: int = field(default=PASSES)


Command = Callable[[argparse.Namespace], Reply]


class _Parser(argparse.ArgumentParser):
    """Says in one line what is wrong, and where to read on."""

    def error(self, message: str) -> NoReturn:
        self.exit(UNREADABLE, f"{self.prog}: {message}\n(see {self.prog} --help)\n")


def build_parser() -> argparse.ArgumentParser:
    """Describe every command that there is."""
    parser = _Parser(
        prog="deckplan",
        description="Plan multi-level decks. Without a command the main workbook opens.",
        epilog="Planning aid. Local code, product instructions and licensed practice decide.",
    )
    parser.add_argument("--version", action="version", version=f"deckplan {__version__}")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", parser_class=_Parser)
    _add_open(commands)
    _add_study(commands)
    _add_span(commands)
    _add_risers(commands)
    _add_export(commands)
    return parser


def _with_json(parser: argparse.ArgumentParser, run: Command) -> None:
    parser.add_argument("--json", action="store_true", help="print one JSON object; keys carry their unit")
    parser.set_defaults(run=run)


def _add_open(commands: Any) -> None:
    parser = commands.add_parser(
        "open", help="open the workbooks", description="Open JupyterLab on the workbooks."
    )
    parser.add_argument(
        "plan", nargs="?", metavar="PLAN", type=file_name, help="a plan file; without one the demonstration"
    )
    parser.add_argument("--app", action="store_true", help="the workbook as a page, without code")
    _with_json(parser, _open)


def _add_study(commands: Any) -> None:
    parser = commands.add_parser(
        "study",
        help="levels, flights, members and checks of a plan",
        description="Study a plan and print what follows.",
    )
    parser.add_argument("plan", metavar="PLAN", type=file_name, help="a plan file")
    parser.add_argument(
        "--all", action="store_true", help="print every member and every check, not only the main ones"
    )
    _with_json(parser, _study)


def _add_risers(commands: Any) -> None:
    parser = commands.add_parser(
        "risers", help="split a rise into equal risers", description="Split a rise into equal risers."
    )
    # -5in is a rise that goes the wrong way, and no option
    parser._negative_number_matcher = re.compile(r"^-\.?\d")
    parser.add_argument(
        "rise", metavar="RISE", type=riser_rise, help='finished surface to finished surface, e.g. "27 1/2 in"'
    )
    parser.add_argument(
        "--rules", default="irc-2021", help="a rule profile, or the path of one (default: %(default)s)"
    )
    parser.add_argument("--board", type=board, default=0.0, help='thickness of the boards, e.g. "1 in"')
    parser.add_argument("--units", choices=("us", "metric"), default="us", help="how lengths are printed")
    _with_json(parser, _risers)


def _add_export(commands: Any) -> None:
    parser = commands.add_parser(
        "export",
        help="write tables, a drawing or the settled plan",
        description="Its ending says what is written: .csv tables, .svg a drawing, .toml the settled plan.",
        epilog=views_text(),
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("plan", metavar="PLAN", type=file_name, help="a plan file")
    parser.add_argument("out", metavar="OUT", type=file_name, help="a file ending in .csv, .svg or .toml")
    parser.add_argument(
        "--view", choices=tuple(VIEWS), default="", metavar="VIEW", help=f"which drawing (default: {PLAN})"
    )
    parser.add_argument(
        "--of", default="", metavar="WHAT", help="one platform, mark, flight, bearing or side"
    )
    _with_json(parser, _export)


def _add_span(commands: Any) -> None:
    parser = commands.add_parser(
        "span", help="what one member can do", description="Size one member by itself."
    )
    kinds = parser.add_subparsers(dest="member", metavar="MEMBER", required=True, parser_class=_Parser)
    joist = kinds.add_parser("joist", help="longest span and overhang of a joist")
    _wood(joist, "--size", "2x10")
    joist.add_argument("--spacing", type=spacing, default=16.0, help='on centre (default: "16 in")')
    _loads(joist)
    beam = kinds.add_parser("beam", help="longest span of a beam, post centre to post centre")
    _wood(beam, "--build", "3-2x10")
    beam.add_argument("--joist-span", type=length, required=True, help="span of the joists on it")
    beam.add_argument(
        "--overhang", type=overhang, help="of the joists beyond it (default: a quarter of their span)"
    )
    beam.add_argument(
        "--basis",
        choices=("nds", "table"),
        default="nds",
        help="table: the published tables' own assumptions",
    )
    _loads(beam)
    post = kinds.add_parser("post", help="tallest post under a load")
    _wood(post, "--size", "6x6")
    post.add_argument(
        "--load", type=footing_load, required=True, help="load on it, in pounds unless a unit is given"
    )
    _service(post)
    footing = kinds.add_parser("footing", help="diameter, side and thickness of a footing")
    footing.add_argument(
        "--load", type=footing_load, required=True, help="load on it, in pounds unless a unit is given"
    )
    footing.add_argument(
        "--soil", type=soil, required=True, help="allowable bearing, in psf unless a unit is given"
    )
    footing.add_argument(
        "--post", type=post_width, default=5.5, help='width of the post (default: "5 1/2 in")'
    )
    ledger = kinds.add_parser("ledger", help="spacing of a ledger's fasteners on centre")
    ledger.add_argument("--fastener", required=True, help='"1/2 lag" or "1/2 bolt"')
    ledger.add_argument("--joist-span", type=length, required=True, help="span of the joists on it")
    ledger.add_argument(
        "--sheathing", type=length, default=0.5, help='between ledger and band joist (default: "1/2 in")'
    )
    _loads(ledger, wood=False)
    for kind in (joist, beam, post, footing, ledger):
        _with_json(kind, _span)


def _wood(parser: argparse.ArgumentParser, size: str, example: str) -> None:
    parser.add_argument("--species", required=True, help='e.g. "southern pine"')
    parser.add_argument("--grade", default="No. 2", help="(default: %(default)s)")
    parser.add_argument(size, dest="size", required=True, help=f"e.g. {example}")


def _loads(parser: argparse.ArgumentParser, wood: bool = True) -> None:
    for name, usual in (("live", 40.0), ("dead", 10.0), ("snow", 0.0)):
        words = f"{name} load, in psf unless a unit is given (default: {usual:g})"
        parser.add_argument(f"--{name}", type=psf, default=usual, help=words)
    if wood:
        _service(parser)


def _service(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--incised", action="store_true", help="cut for treatment")
    parser.add_argument("--dry", action="store_true", help="never over 19 %% moisture")


# -- commands --


def _open(args: argparse.Namespace) -> Reply:
    from pathlib import Path

    from deckplan.panels.opening import open_workbooks

    status = open_workbooks(Path(args.plan) if args.plan else None, bool(getattr(args, "app", False)))
    return Reply({"opened": True}, "", int(status or 0))


def _study(args: argparse.Namespace) -> Reply:
    from deckplan.cli.study import study_text, study_to_json
    from deckplan.plan.file import read_plan
    from deckplan.study import Study

    study = Study(read_plan(args.plan))
    status = PASSES if study.verdict.value == "PASS" else FAILS
    return Reply(
        study_to_json(study) if args.json else {}, "" if args.json else study_text(study, args.all), status
    )


def _span(args: argparse.Namespace) -> Reply:
    from deckplan.cli.span import answer_span

    data, text, stands = answer_span(args)
    return Reply(data, text, PASSES if stands else FAILS)


def _risers(args: argparse.Namespace) -> Reply:
    from deckplan.cli.risers import answer_risers

    data, text = answer_risers(args.rise, args.rules, args.board, args.units)
    return Reply(data, text, PASSES if data["verdict"] == "PASS" else FAILS)


def _export(args: argparse.Namespace) -> Reply:
    from deckplan.cli.export import export

    written, verdict = export(args.plan, args.out, args.view, args.of)
    lines = [f"written: {path}" for path in written]
    if verdict != "PASS":
        lines.append(f"The plan's verdict is {verdict}; deckplan study {args.plan} says why.")
    return Reply({"written": written, "verdict": verdict}, "\n".join(lines))


# -- running --


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status; never a traceback."""
    parser = build_parser()
    try:
        args = parser.parse_args(arguments)
        if args.command is None:
            args = parser.parse_args(["open"])
        reply: Reply = args.run(args)
        _print(
            json.dumps(reply.data, indent=1, ensure_ascii=False, allow_nan=False) if args.json else reply.text
        )
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else UNREADABLE
    except DeckplanError as error:
        return _complain(str(error))
    except BrokenPipeError:
        # Whoever read us has had enough, e.g. `| head`.
        _close_output()
        return PASSES
    except KeyboardInterrupt:
        return 130
    except OSError as error:
        _close_output()
        where = f"{error.filename}: " if error.filename else ""
        return _complain(f"{where}{error.strerror or error}")
    except Exception as error:
        if os.environ.get("DECKPLAN_TRACE"):
            raise
        return _complain(
            f"deckplan: a fault of the program, not of your plan ({type(error).__name__}: {error}). "
            f"DECKPLAN_TRACE=1 shows where."
        )
    return reply.status


def _print(text: str) -> None:
    if not text:
        return
    if hasattr(sys.stdout, "reconfigure"):
        sys.stdout.reconfigure(errors="replace")
    print(text, flush=True)


def _close_output() -> None:
    """Let nothing more be written on the way out, which would fail a second time."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _complain(message: str) -> int:
    with contextlib.suppress(OSError, UnicodeError):
        print(message, file=sys.stderr, flush=True)
    return UNREADABLE


if __name__ == "__main__":
    sys.exit(main())
