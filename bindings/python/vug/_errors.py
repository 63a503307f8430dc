# SPDX-License-Identifier: MIT
"""An exception for each status, carrying the status and the library's message."""
from __future__ import annotations

import errno
import os
from typing import Any, Dict, Optional, Type

from ._raw import CONSTANTS, lib


class VugError(Exception):
    """A call of the library failed. status is its number, message tells what, where, which
    value and which limit."""

    status: int = -1

    def __init__(self, message: str, status: int = -1) -> None:
        super().__init__(message)
        self.message = message
        if status >= 0:
            self.status = status


class ArgumentError(VugError, ValueError):
    """A count, index or option is not acceptable."""


class OutOfMemoryError(VugError, MemoryError):
    """The allocator gave no memory."""


class CancelledError(VugError):
    """cancel() or the progress callable stopped the call."""


class FileError(VugError, OSError):
    """A file cannot be opened, read or written."""

    def __str__(self) -> str:
        return self.message


class MissingFileError(FileError, FileNotFoundError):
    """There is no such file or folder."""


class FileAccessError(FileError, PermissionError):
    """The file may not be read or written."""


class FolderError(FileError, IsADirectoryError):
    """A file is needed, and this is a folder."""


class FormatError(VugError, ValueError):
    """The content of a file is malformed."""


class UnsupportedError(VugError, NotImplementedError):
    """This build or this format cannot do it."""


class MeshError(VugError, ValueError):
    """The mesh is not fit for the question asked."""


class LimitError(VugError, OverflowError):
    """Something is larger than a documented limit."""


class DomainError(VugError, ArithmeticError):
    """A number lies outside the range of the formula."""


class NotFoundError(VugError, LookupError):
    """There is no such thing in this part."""


class ConvergenceError(VugError, ArithmeticError):
    """An iteration did not reach its tolerance."""


class InternalError(VugError, RuntimeError):
    """A defect of the library: please report it."""


class VugWarning(UserWarning):
    """A fault that did not stop a call, such as a wrong count in a file."""


BY_STATUS: Dict[int, Type[VugError]] = {
    CONSTANTS["VUG_ERR_ARGUMENT"]: ArgumentError,
    CONSTANTS["VUG_ERR_MEMORY"]: OutOfMemoryError,
    CONSTANTS["VUG_ERR_CANCELLED"]: CancelledError,
    CONSTANTS["VUG_ERR_IO"]: FileError,
    CONSTANTS["VUG_ERR_FORMAT"]: FormatError,
    CONSTANTS["VUG_ERR_UNSUPPORTED"]: UnsupportedError,
    CONSTANTS["VUG_ERR_MESH"]: MeshError,
    CONSTANTS["VUG_ERR_LIMIT"]: LimitError,
    CONSTANTS["VUG_ERR_DOMAIN"]: DomainError,
    CONSTANTS["VUG_ERR_NOT_FOUND"]: NotFoundError,
    CONSTANTS["VUG_ERR_CONVERGENCE"]: ConvergenceError,
    CONSTANTS["VUG_ERR_INTERNAL"]: InternalError,
}
for _status, _class in BY_STATUS.items():
    _class.status = _status


OF_SYSTEM: Dict[type, Type[FileError]] = {
    FileNotFoundError: MissingFileError, PermissionError: FileAccessError, IsADirectoryError: FolderError}


def why(path: Any, writing: bool) -> Optional[OSError]:
    """What the system says of a file that could not be read, or written; None: nothing."""
    folder = os.path.dirname(os.fsencode(path)) or b"."
    try:
        if not writing:
            os.close(os.open(path, os.O_RDONLY))
        elif os.path.isdir(path):
            os.close(os.open(path, os.O_WRONLY))
        else:
            os.listdir(folder)
    except OSError as reason:
        return reason
    if os.path.isdir(path):
        return IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
    if writing and not os.access(folder, os.W_OK):
        return PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    return None


def located(raised: FileError, path: Any, writing: bool) -> FileError:
    """The error of a file with its name, its errno, and the class that the system has for that."""
    reason = why(path, writing)
    found = OF_SYSTEM.get(type(reason), FileError)(raised.message, raised.status)
    found.filename = os.fsdecode(path)
    if reason is not None:
        found.errno, found.strerror = reason.errno, reason.strerror
    return found


def error(status: int, message: str = "") -> VugError:
    """The exception for a status; a number not known gives VugError itself."""
    text = message or lib.vug_status_string(status).decode()
    return BY_STATUS.get(status, VugError)(text, status)
