"""The session page on paper: typst sets it from the template in the resources, with our own fonts alone."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import UTC, datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Final, Literal, TypeAlias

from tastebook.domain.errors import PageError
from tastebook.press.lettering import lettered
from tastebook.reports.page import SessionPage

Paper: TypeAlias = Literal["a4", "us-letter"]

PAPERS: Final = ("a4", "us-letter")

_ACCESSIBLE: Final = ["ua-1"]


def set_session_page(page: SessionPage, paper: Paper = "a4") -> bytes:
    """Return a session page as a PDF: tagged, searchable, the same bytes for the same page.

    It conforms to PDF/UA-1 (ISO 14289-1) as far as typst can check that, unless it holds something that cannot.

    Raises
    ------
    PageError
        If the paper is unknown or the page cannot be set.
    """
    if paper not in PAPERS:
        raise PageError(f"There is no paper “{paper}”: choose {' or '.join(PAPERS)}.")
    inputs = {"paper": paper, "palette": _palette(), "page": _handed_over(page)}
    return compiled("session.typ", inputs)


def compiled(template: str, inputs: dict[str, str]) -> bytes:
    """Return what a template of the resources makes of its inputs.

    Raises
    ------
    PageError
        If typst refuses.
    """
    import typst

    resources = _resources()
    compiler = typst.Compiler(
        str(resources / "pages" / template),
        root=str(resources / "pages"),
        font_paths=[str(resources / "fonts")],
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )
    try:
        return _pdf(compiler, _ACCESSIBLE)
    except typst.TypstError:
        pass
    try:
        return _pdf(compiler, [])
    except typst.TypstError as exc:
        raise PageError(f"The page could not be set: {exc}. The journal is unharmed; please report this.") from exc


def _pdf(compiler: Any, standards: list[str]) -> bytes:
    pdf, _ = compiler.compile_with_warnings(format="pdf", pdf_standards=standards)
    if not isinstance(pdf, bytes):
        raise PageError("The page could not be set: nothing came of it.")
    return pdf


def _handed_over(page: SessionPage) -> str:
    """Return the page as JSON data: whatever a taster wrote stays text, and is never read as part of the template."""
    data = lettered(asdict(page), _resources() / "fonts")
    return json.dumps(data, default=_as_data)


def _as_data(value: object) -> object:
    """Return what JSON has no word for: pictures as their bytes, moments as their parts."""
    if isinstance(value, bytes):
        return list(value)
    if isinstance(value, datetime):
        return _date_parts(value)
    raise TypeError(f"{type(value).__name__} has no place on a page")


def _date_parts(moment: datetime) -> dict[str, int]:
    at_utc = moment.astimezone(UTC)  # typst writes a document's date as UTC
    return {part: getattr(at_utc, part) for part in ("year", "month", "day", "hour", "minute", "second")}


@cache
def _palette() -> str:
    tokens = json.loads((_resources() / "theme" / "tokens.json").read_text(encoding="utf-8"))
    paper = tokens["themes"]["paper"]
    return json.dumps({"colour": paper["colour"], "family": paper["family"]})


@cache
def _resources() -> Path:
    return Path(str(files("tastebook.resources")))
