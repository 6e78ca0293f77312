"""Opening a DXF file: every way it can fail to be one ends in one clear message."""

from __future__ import annotations

import logging
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Final

from finishplan.errors import Fault, GeometryError

if TYPE_CHECKING:
    from ezdxf.document import Drawing

LARGEST_FILE: Final = 100_000_000
"""Largest drawing read [bytes]; one of this size takes about half a minute and 1 GB of memory."""

_MOST_REMARKS: Final = 20
_WANTED: Final = "a DXF file, text or binary"
_REDRAWN: Final = "the drawing anew as DXF"


def open_drawing(path: Path, name_shown: str) -> Drawing:
    """The drawing in a file; a damaged one is refused and never repaired.

    Parameters
    ----------
    path : Path
        The file.
    name_shown : str
        Its name as the user wrote it, for the fault.

    Raises
    ------
    GeometryError
        No such file, no DXF, too large, cut off or damaged.
    """
    try:
        status = path.stat()
    except (OSError, ValueError) as error:
        raise _refused(name_shown, _reason(error), _WANTED, "the path from the job file to it") from error
    if not stat.S_ISREG(status.st_mode):
        raise _refused(name_shown, "a folder or device", _WANTED, "the path from the job file to it")
    if status.st_size > LARGEST_FILE:
        given, wanted = (f"{size / 1e6:.0f} MB" for size in (status.st_size, LARGEST_FILE))
        raise _refused(name_shown, given, f"at most {wanted}", "a drawing that holds the edges alone")
    return _parsed(path, name_shown)


@contextmanager
def library_remarks() -> Iterator[list[str]]:
    """Collect what the DXF library warns of, such as data it left out, instead of letting it print."""
    logger = logging.getLogger("ezdxf")
    collector = _Collector(logging.WARNING)
    before = logger.level, logger.propagate
    logger.addHandler(collector)
    logger.setLevel(logging.WARNING)
    logger.propagate = False
    try:
        yield collector.remarks
    finally:
        logger.removeHandler(collector)
        logger.setLevel(before[0])
        logger.propagate = before[1]


class _Collector(logging.Handler):
    """Keeps every different remark once."""

    def __init__(self, level: int) -> None:
        super().__init__(level)
        self.remarks: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        remark = plain(record.getMessage())
        if remark not in self.remarks and len(self.remarks) < _MOST_REMARKS:
            self.remarks.append(remark)


def plain(text: str) -> str:
    """A short printable extract of text that may come straight from a faulty file."""
    return "".join(character if character.isprintable() else " " for character in text)[:100].strip()


def _parsed(path: Path, name_shown: str) -> Drawing:
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFStructureError

    try:
        document = readfile(path)
        document.modelspace()  # a file with damaged layouts opens, but has none
        return document
    except DXFStructureError as error:
        given = f"a damaged or cut-off file ({plain(str(error))})"
        raise _refused(name_shown, given, "a complete DXF file", _REDRAWN) from error
    except OSError as error:
        given = _reason(error) if error.errno else "a file that is not DXF"
        raise _refused(name_shown, given, _WANTED, _REDRAWN) from error
    except Exception as error:
        # The parser meets damaged data with errors of every kind; whichever it is, the file is at fault.
        given = f"a damaged file ({type(error).__name__} while reading)"
        raise _refused(name_shown, given, "a complete DXF file", _REDRAWN) from error


def _refused(name_shown: str, given: str, wanted: str, write: str) -> GeometryError:
    return GeometryError([Fault(name_shown, "drawing", wanted, given, write)])


def _reason(error: OSError | ValueError) -> str:
    if isinstance(error, FileNotFoundError):
        return "no such file"
    return (getattr(error, "strerror", None) or "a path that cannot be read").lower()
