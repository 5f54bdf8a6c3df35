"""Reading and replacing whole files, so that no failure leaves half of one."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from pathlib import Path

from deckplan.errors import InputError, Problem

MOST_BYTES = 4_000_000
"""No plan that a person typed is longer; a wrong file often is."""


def read_text(path: Path) -> str:
    """Read a file as text; raises InputError where it is missing, a folder, too long or not UTF-8."""
    try:
        if path.is_dir():
            raise InputError([Problem("the file", "a plan file", "a folder")], str(path))
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise InputError([Problem("the file", "there is no such file")], str(path)) from None
    except (OSError, ValueError) as error:
        raise InputError([Problem("the file", f"cannot be read: {_reason(error)}")], str(path)) from None
    if len(data) > MOST_BYTES:
        raise InputError([Problem("the file", "a plan of at most 4 MB", "longer")], str(path))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        problem = Problem(f"line {line}", "text in UTF-8", f"the byte 0x{data[error.start]:02x}")
        raise InputError([problem], str(path)) from None


def replace_file(path: str | Path, content: str | bytes) -> None:
    """Write a file whole or not at all: into a new file beside it, then in its place.

    A link is followed, the permissions of a file that is there already are kept.
    Raises InputError where the folder cannot be written; what was there is then untouched.
    """
    target = Path(path)
    data = content.encode("utf-8") if isinstance(content, str) else content
    temporary = ""
    try:
        target = target.resolve()
        if target.is_dir():
            raise InputError([Problem("the file", "a name to write to", "a folder")], str(path))
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name}.", suffix=".part", dir=target.parent)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if target.exists():
            shutil.copymode(target, temporary)
        else:
            os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, target)
    except (OSError, ValueError) as error:
        raise InputError([Problem("the file", f"cannot be written: {_reason(error)}")], str(path)) from None
    finally:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or str(error)
