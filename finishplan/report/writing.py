"""Write a result to a file whole or not at all, and never over another file unasked."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from finishplan.errors import OutputError


def write_text(path: Path, text: str, *, overwrite: bool = False) -> None:
    """Write text by way of a temporary file in the same folder.

    Raises
    ------
    OutputError
        The file exists and may not be overwritten, or the folder cannot be written to.
    """
    if path.exists() and not overwrite:
        raise OutputError(f"{path}: exists already; wanted a new file; write another name or add --force")
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    except OSError as error:
        raise OutputError(f"{path}: cannot be written: {error.strerror}") from error
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o644)
        os.replace(temporary, path)
    except OSError as error:
        os.unlink(temporary)
        raise OutputError(f"{path}: cannot be written: {error.strerror}") from error
