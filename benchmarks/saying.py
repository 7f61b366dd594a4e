"""How long it takes to understand what is said: `python benchmarks/saying.py`.

A passage of 2,000 words, put together from the corpus, and every keystroke of a line of 200 letters, understood anew
from its beginning each time, as the Bench does. Then the same keystrokes at a Bench: what is understood, marked, laid
on the boards and offered (`type` and `view().card`), in the same run, beside what understanding alone takes. A long
passage is understood once its typing pauses; until then a letter is only taken down.
"""

from __future__ import annotations

import gc
import sys
import time
from pathlib import Path
from statistics import median, quantiles

sys.path.insert(0, str(Path(__file__).parents[1]))

from tastebook.domain.saying import understand
from tastebook.domain.vocabulary import Vocabulary
from tastebook.platform.wordlists import load_vocabulary
from tastebook.presenters.bench.presenter import BenchPresenter
from tests.bench_kit import bench_kit
from tests.corpus.passages import passages

WORDS = 2000
LETTERS = 200
REPEATS = 15
GOAL_PASSAGE_MS = 50.0
GOAL_KEYSTROKE_MS = 5.0
SEEN_MS = 100.0
"""A passage beyond 400 letters is shown once its typing pauses: then within a tenth of a second."""

TEXTURE = ("body", "surface", "grip", "bitterness", "huigan", "mouth_watering", "throat", "finish")
LINE = (
    "so the orchid has faded a little and there is more white peach now, a hint of cinnamon, no smoke at all, and in "
    "the empty cup strong honey and baked apple, perhaps a breath of lemon curd, silky, thick"
)


def main() -> None:
    begun_s = time.perf_counter()
    vocabulary = load_vocabulary()
    print(f"words and rules loaded in {(time.perf_counter() - begun_s) * 1000:.0f} ms")
    begun_s = time.perf_counter()
    understand("osmantus, a hint of umbrella", vocabulary)
    gc.freeze()  # as the program does once it is warm
    print(f"first words understood (phrases gathered) in {(time.perf_counter() - begun_s) * 1000:.0f} ms")
    passage = " ".join(" ".join(one.text for one in passages()).split()[:WORDS])
    told("2,000 words, never seen", [taken_ms(passage, vocabulary)], GOAL_PASSAGE_MS)
    told("2,000 words", [taken_ms(passage, vocabulary) for _ in range(REPEATS)], GOAL_PASSAGE_MS)
    line = LINE[:LETTERS].ljust(LETTERS, ".")
    typed = [line[:end] for end in range(1, LETTERS + 1)]
    told("each keystroke to 200 letters", [taken_ms(one, vocabulary) for one in typed], GOAL_KEYSTROKE_MS)
    alone = [taken_ms(one, vocabulary, TEXTURE) for one in typed]
    told("each keystroke, texture asked", alone, GOAL_KEYSTROKE_MS)
    bench = bench_at_flavour()
    shown = [shown_ms(bench, one) for one in typed]
    told("each keystroke, seen on the card", shown, GOAL_KEYSTROKE_MS)
    print(f"{'':<32} {median(shown) / median(alone):.1f} times understanding alone")
    told("300 words, seen on the card", [shown_ms(bench, cut(passage, 300, number)) for number in range(9)], SEEN_MS)
    told("2,000 words, seen on the card", [shown_ms(bench, passage + "." * number) for number in range(9)], SEEN_MS)
    told("letters until then (typed only)", [typed_ms(bench, passage + one) for one in "orchid"], GOAL_KEYSTROKE_MS)


def bench_at_flavour() -> BenchPresenter:
    """Return a Bench at the flavour of the second infusion, with words noted at the first."""
    kit = bench_kit()
    for _ in range(3):
        kit.press()
        kit.clock.advance(20)
        kit.press()
        kit.press()
    for column in ("1", "2"):
        kit.bench.go_to(column)
        kit.bench.choose_step("flavour")
        if column == "1":
            kit.bench.say("orchid 4, white peach 3, no rose, cinnamon 2, honey 3")
    return kit.bench


def cut(passage: str, words: int, number: int) -> str:
    """Return some words of a passage, others for each number."""
    return " ".join(passage.split()[number * 50 : number * 50 + words])


def shown_ms(bench: BenchPresenter, text: str) -> float:
    begun_s = time.perf_counter()
    bench.type(text)
    _ = bench.view().card
    return (time.perf_counter() - begun_s) * 1000


def typed_ms(bench: BenchPresenter, text: str) -> float:
    begun_s = time.perf_counter()
    bench.type(text)
    return (time.perf_counter() - begun_s) * 1000


def taken_ms(text: str, vocabulary: Vocabulary, scales: tuple[str, ...] = ()) -> float:
    begun_s = time.perf_counter()
    understand(text, vocabulary, scales=scales)
    return (time.perf_counter() - begun_s) * 1000


def told(name: str, taken: list[float], goal_ms: float) -> None:
    late = quantiles(taken, n=20)[-1] if len(taken) > 1 else taken[0]
    print(f"{name:<32} median {median(taken):6.2f} ms   95 % {late:6.2f}   worst {max(taken):6.2f}   goal {goal_ms:g}")


if __name__ == "__main__":
    main()
