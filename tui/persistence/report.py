"""The report of a fault of ours."""

import traceback

from tui.persistence.files import StoreError, save
from tui.persistence.folders import data_folder


def kept_report(fault: BaseException, kept: str = "") -> str:
    """Keep the report of a fault in a file; return in words where it lies.

    `kept` says what the player need not fear for.
    """
    # What failed beside the keys comes wrapped, and the wrapping does not tell where.
    inner = getattr(fault, "error", None)
    report = "".join(traceback.format_exception(inner if isinstance(inner, BaseException) else fault))
    try:
        path = data_folder() / "report.txt"
        save(path, report)
        where = f"the report lies in {path}"
    except (StoreError, OSError, RuntimeError):
        where = report
    return f"stillhand had to stop: that is a fault of ours{kept}. {where}"
