"""Cut the bundled Chinese face out of Noto Sans SC (SIL Open Font Licence 1.1) and rename it.

    python packaging/build_chinese_font.py SOURCE_FOLDER resources/fonts/BenchHan-400.ttf

SOURCE_FOLDER holds the weight-400 pieces of the npm package `@fontsource/noto-sans-sc` (its folder `files`). Needs
fonttools and brotli. Kept are GB 2312 level 1 (3,755 characters), kana, those of level 2 that are common enough to
stand in the package's first pieces, the punctuation that goes with them, every Chinese character of our own vocabulary,
courses and demo, and the older forms that tea names use.

The licence reserves the name "Source", and Noto is a trade mark, so that a changed copy must bear another name: the
family is called "Bench Han". The copyright and licence entries stay in the file.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Iterable
from pathlib import Path

from fontTools.merge import Merger
from fontTools.merge import Options as MergeOptions
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

FAMILY = "Bench Han"
LICENCE = "This Font Software is licensed under the SIL Open Font License, Version 1.1."
PROJECT = Path(__file__).resolve().parents[1]

PUNCTUATION = "、。·—…‘’“”〈〉《》「」『』【】〔〕！（），．：；？％～￥　"

OLDER_FORMS = (
    "鐵觀音東頂凍鳳凰單叢龍巖嶺葉綠紅藍黃韻濃濕壓緊鬆麗貴師陳種樹園莊產區縣鄉鎮臺灣雲貢壽銀針尖雙採製發酵"
    "殺揉撚乾燥焙烘輕重熱溫湯澀醬鮮爽潤滑細膩飽滿濁淨雜異沉蘭蜜棗煙蟲傷補圓餅磚罐條塊級號價庫"
)
"""Forms in use for lots from Taiwan and Hong Kong. Common practice, no source."""

RARER = "鹭馊萱茗薷槚荈芽茉莉珠桂栀玳蕙芷菁莓榛枞粳糯醪醅馥郁氤氲甑瓯盏瓷壶龢"
"""Beyond level 1, or at its edge: cultivars, vessels and smells. Common practice, no source."""


def main() -> None:
    """Read the arguments, cut, merge, rename and save."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("source", type=Path)
    parser.add_argument("out", type=Path)
    options = parser.parse_args()
    wanted = {ord(sign) for sign in wanted_signs() | common_level_2(options.source)}
    font = merged(list(cut_pieces(options.source, wanted)))
    rename(font)
    font.save(options.out)
    held = set(font.getBestCmap())
    missing = "".join(sorted(chr(code) for code in wanted - held)) or "none"
    print(f"{options.out.name}: {options.out.stat().st_size} bytes, {len(held)} signs; missing: {missing}")


def wanted_signs() -> set[str]:
    """Return every sign that the face must have."""
    return {*level_1(), *kana(), *PUNCTUATION, *OLDER_FORMS, *RARER, *our_own()}


def kana() -> set[str]:
    """Return hiragana and katakana, in which Japanese cultivars are written."""
    return {chr(code) for code in (*range(0x3041, 0x3097), *range(0x3099, 0x30FF))}


def level_1() -> set[str]:
    """Return GB 2312 level 1: rows 16 to 55, the last of which ends at cell 89."""
    cells = [(row, cell) for row in range(16, 56) for cell in range(1, 95) if (row, cell) <= (55, 89)]
    return {bytes((row + 0xA0, cell + 0xA0)).decode("gb2312") for row, cell in cells}


def common_level_2(source: Path) -> set[str]:
    """Return the signs of GB 2312 level 2 in the pieces of the most common signs; 119 is the most common piece."""
    paths = [source / f"noto-sans-sc-{number}-400-normal.woff2" for number in range(97, 120)]
    signs = {chr(code) for path in paths for code in TTFont(path).getBestCmap()}
    return {sign for sign in signs if "\u4e00" <= sign <= "\u9fff" and is_level_2(sign)}


def is_level_2(sign: str) -> bool:
    """Say whether the sign stands in rows 56 to 87 of GB 2312."""
    code = sign.encode("gb2312", errors="ignore")
    return len(code) == 2 and code[0] - 0xA0 >= 56


def our_own() -> set[str]:
    """Return the Chinese characters in the files that ship with the program."""
    folders = ("resources/vocabulary", "resources/courses", "resources/pages", "demo")
    texts = [path.read_text(encoding="utf-8") for name in folders for path in (PROJECT / name).rglob("*.t*")]
    return {sign for text in texts for sign in text if "\u3400" <= sign <= "\u9fff"}


def cut_pieces(source: Path, wanted: set[int]) -> Iterable[TTFont]:
    """Yield cut pieces which together hold the wanted signs, each sign once; the largest piece first."""
    left = set(wanted)
    paths = sorted(source.glob("*-400-normal.woff2"), key=lambda path: path.stat().st_size, reverse=True)
    for path in paths:
        font = TTFont(path)
        here = left & set(font.getBestCmap())
        if here:
            yield cut(font, here)
            left -= here


def cut(font: TTFont, codes: set[int]) -> TTFont:
    """Return the font with only these signs, without hints and layout rules."""
    options = Options()
    options.layout_features = []
    options.hinting = False
    options.glyph_names = False
    options.notdef_outline = True
    options.name_IDs = ["*"]
    options.drop_tables += ["BASE", "GDEF", "GPOS", "GSUB", "STAT", "vhea", "vmtx", "gasp", "prep"]
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=codes)
    subsetter.subset(font)
    font.flavor = None
    return font


def merged(pieces: list[TTFont]) -> TTFont:
    """Return the pieces as one font."""
    if len(pieces) == 1:
        return pieces[0]
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for number, piece in enumerate(pieces):
            paths.append(str(Path(folder) / f"{number}.ttf"))
            piece.save(paths[-1])
        return Merger(options=MergeOptions()).merge(paths)


def rename(font: TTFont) -> None:
    """Give the font its own name and keep whose work it is."""
    copyright_notice = str(font["name"].getName(0, 3, 1))
    entries = {
        0: copyright_notice,
        1: FAMILY,
        2: "Regular",
        3: f"{FAMILY} Regular 1.0",
        4: f"{FAMILY} Regular",
        5: "Version 1.0; cut from version 2.004",
        6: "BenchHan-Regular",
        13: LICENCE,
        14: "https://openfontlicense.org",
    }
    font["name"].names = []
    for number, words in entries.items():
        font["name"].setName(words, number, 3, 1, 0x409)
    font["OS/2"].usWeightClass = 400
    font["OS/2"].fsSelection = 1 << 6
    font["head"].macStyle = 0


if __name__ == "__main__":
    main()
