"""What two independent readers find in a PDF."""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Any

import pdfplumber
import pypdf

MM = 72 / 25.4


def document(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf))


@cache
def by_pypdf(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in document(pdf).pages)


@cache
def by_pdfplumber(pdf: bytes) -> str:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return "\n".join(page.extract_text() for page in opened.pages)


def pages_by_pdfplumber(pdf: bytes) -> list[str]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return [page.extract_text() for page in opened.pages]


def signs(pdf: bytes) -> Iterator[tuple[Any, dict[str, Any]]]:
    """Yield every sign with the page on which it stands."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        for page in opened.pages:
            for sign in page.chars:
                yield page, sign


def words_on_pages(pdf: bytes) -> list[list[dict[str, Any]]]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return [page.extract_words(use_text_flow=True, keep_blank_chars=False) for page in opened.pages]


def unspaced(text: str) -> str:
    """Return a text without its spaces, since lines break where they must."""
    return "".join(unicodedata.normalize("NFC", text).split())


def structure(pdf: bytes) -> list[Any]:
    """Return every element of the structure tree."""
    found = []
    waiting = [document(pdf).trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        element = waiting.pop().get_object()
        if isinstance(element, list):
            waiting += element
        elif isinstance(element, dict):
            found.append(element)
            waiting += [element["/K"]] if "/K" in element else []
    return found
