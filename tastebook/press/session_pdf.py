"""The session page on paper: typst sets it from the template in the resources, with our own fonts alone."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import datetime
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Final, Literal, TypeAlias

from tastebook.domain.errors import PageError
from tastebook.reports.page import SessionPage

Paper: TypeAlias = Literal["a4", "us-letter"]

PAPERS: Final = ("a4", "us-letter")


def set_session_page(page: SessionPage, paper: Paper = "a4") -> bytes:
    """Return a session page as a PDF: tagged, searchable, the same bytes for the same page.

    Raises
    ------
    PageError
        If the paper is unknown or the page cannot be set.
    """
    import typst

    if paper not in PAPERS:
        raise PageError(f"There is no paper “{paper}”: choose {' or '.join(PAPERS)}.")
    resources = _resources()
    compiler = typst.Compiler(
        str(resources / "pages" / "session.typ"),
        root=str(resources / "pages"),
        font_paths=[str(resources / "fonts")],
        ignore_system_fonts=True,
        sys_inputs={"paper": paper, "palette": _palette(), "page": json.dumps(asdict(page), default=_date_parts)},
    )
    try:
        pdf, _ = compiler.compile_with_warnings(format="pdf")
    except typst.TypstError as exc:
        raise PageError(f"The page of this session could not be set: {exc}") from exc
    if not isinstance(pdf, bytes):
        raise PageError("The page of this session could not be set: nothing came of it.")
    return pdf


def _date_parts(moment: datetime) -> dict[str, int]:
    return {part: getattr(moment, part) for part in ("year", "month", "day", "hour", "minute", "second")}


@cache
def _palette() -> str:
    tokens = json.loads((_resources() / "theme" / "tokens.json").read_text(encoding="utf-8"))
    paper = tokens["themes"]["paper"]
    return json.dumps({"colour": paper["colour"], "family": paper["family"]})


@cache
def _resources() -> Path:
    return Path(str(files("tastebook.resources")))
