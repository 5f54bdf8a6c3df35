"""The three widgets that every panel is made of: a form, a page of text and tables, a drawing.

Their browser side stands in files beside this one and is sent inline: nothing comes from a network.
"""

from __future__ import annotations

import re
from base64 import b64encode
from html import escape
from pathlib import Path
from typing import Any

import anywidget
import traitlets
from traitlets import Int, Unicode

_HERE = Path(__file__).resolve().parent
LOOK = (_HERE / "look.css").read_text(encoding="utf-8")


def _script(name: str) -> str:
    return (_HERE / name).read_text(encoding="utf-8")


def image(svg: str, words: str) -> str:
    """Return an SVG document as an HTML image that stands by itself; words: what it shows."""
    data = b64encode(svg.encode()).decode()
    return f'<img alt="{escape(words)}" style="max-width:100%" src="data:image/svg+xml;base64,{data}">'


class Bare(anywidget.AnyWidget):
    """A widget that leaves something readable in a notebook opened without a kernel."""

    _css = LOOK

    def fallback(self) -> str:
        """Return what is shown where no kernel runs, as HTML."""
        return ""

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        bundle = super()._repr_mimebundle_(**kwargs)
        return with_fallback(bundle, self.fallback())


_LIVE = re.compile(
    r'<div class="dk-(?:tabs|deeds)".*?</div>|<button[^>]*data-pick="(?:why|use|more|csv|again).*?</button>'
)
_BUTTON = re.compile(r"<button[^>]*>(.*?)</button>")


def still(html: str) -> str:
    """Return a page without the tabs and buttons that nobody answers where no kernel runs; names on others stay.

    >>> still('<p><button data-pick="A-F1">A-F1</button> fails <button data-pick="why A">why</button></p>')
    '<p>A-F1 fails </p>'
    """
    return _BUTTON.sub(r"\1", _LIVE.sub("", html))


def with_fallback(bundle: Any, html: str) -> Any:
    """Add HTML to what a widget says of itself; live front ends prefer the widget."""
    data, *rest = bundle if isinstance(bundle, tuple) else (bundle,)
    if data is None or not html:
        return bundle
    data = {**data, "text/html": html}
    return (data, *rest) if rest else data


class Form(Bare):
    """Fields with their texts. `value` is what was typed last: {n, place, text, gesture}."""

    _esm = _script("form.js")
    title = Unicode().tag(sync=True)
    fields: traitlets.List[Any] = traitlets.List().tag(sync=True)
    value = traitlets.Dict().tag(sync=True)
    answered = Int(0).tag(sync=True)

    def fallback(self) -> str:
        """Show the fields as a list."""
        rows = "".join(
            f"<tr><td>{escape(str(field['say']))}</td><td>{escape(_shown(field))}</td>"
            f"<td>{escape(str(field['follows']))}</td></tr>"
            for field in self.fields
        )
        return f"<p><b>{escape(self.title)}</b></p><table>{rows}</table>"


def _shown(field: dict[str, Any]) -> str:
    words = dict(field["choices"])
    return str(words.get(field["text"], field["text"]))


class Page(Bare):
    """Text and tables. `value` is what was pressed last: {n, pick}."""

    _esm = _script("page.js")
    html = Unicode().tag(sync=True)
    value = traitlets.Dict().tag(sync=True)

    def fallback(self) -> str:
        """Show the page itself, without what only a kernel could answer."""
        return still(self.html)


class Drawing(Bare):
    """A drawing with tabs. `value` is the mark that is picked; `pull` how far a level was pulled.

    svg: the picture; view, views: which drawing, of which; lit: marks shown as picked; grips: letters of the
    platforms that can be pulled in this view, with their names; room: "wide" or "narrow", told by the browser;
    choices: what can be chosen beside the view, each {name, label, value, options, kind: "row" | "select"}; chosen:
    what was chosen last, {n, name, value}; beneath: HTML under the picture.
    """

    _esm = _script("drawing.js")
    svg = Unicode().tag(sync=True)
    view = Unicode().tag(sync=True)
    views: traitlets.List[Any] = traitlets.List().tag(sync=True)
    value = Unicode().tag(sync=True)
    lit: traitlets.List[Any] = traitlets.List().tag(sync=True)
    grips = traitlets.Dict().tag(sync=True)
    pull = traitlets.Dict().tag(sync=True)
    answered = Int(0).tag(sync=True)
    room = Unicode("wide").tag(sync=True)
    choices: traitlets.List[Any] = traitlets.List().tag(sync=True)
    chosen = traitlets.Dict().tag(sync=True)
    beneath = Unicode().tag(sync=True)

    def fallback(self) -> str:
        """Show the picture as an image."""
        return image(self.svg, self.view)
