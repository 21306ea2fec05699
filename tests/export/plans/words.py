"""Letters and words of a PDF's pages where pdfium finds them, in millimetres, y up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pypdfium2

MM = 25.4 / 72.0


@dataclass(frozen=True)
class Word:
    """A word and the box around its letters: left, bottom, right, top."""

    said: str
    box: np.ndarray

    @property
    def middle(self) -> np.ndarray:
        """The middle of its box."""
        return (self.box[:2] + self.box[2:]) / 2


def letters_of(page: pypdfium2.PdfPage) -> tuple[str, np.ndarray]:
    """Return the letters of a page in the order of the file, and the tight box of each."""
    text = page.get_textpage()
    said, boxes = [], []
    for k in range(text.count_chars()):
        letter = text.get_text_range(k, 1)
        said.append(letter if len(letter) == 1 else " ")
        boxes.append(text.get_charbox(k))
    return "".join(said), np.array(boxes).reshape(-1, 4) * MM


def words_of(page: pypdfium2.PdfPage) -> list[Word]:
    """Return the words of a page: letters that follow each other in one line, level or upright."""
    said, boxes = letters_of(page)
    found: list[Word] = []
    start = 0
    for k in range(1, len(said) + 1):
        if k < len(said) and not said[k].isspace() and not said[k - 1].isspace():
            continue
        word = said[start:k].strip()
        if word:
            box = boxes[start:k]
            found.append(Word(word, np.append(box[:, :2].min(axis=0), box[:, 2:].max(axis=0))))
        start = k
    return found


def overlaps(page: pypdfium2.PdfPage, *, by_mm: float = 0.1) -> list[tuple[str, str]]:
    """Return pairs of words whose letters lie over each other."""
    words = words_of(page)
    boxes = np.array([one.box for one in words])
    low = np.maximum(boxes[:, None, :2], boxes[None, :, :2])
    high = np.minimum(boxes[:, None, 2:], boxes[None, :, 2:])
    over = np.all(high - low > by_mm, axis=2)
    return [(words[a].said, words[b].said) for a, b in np.argwhere(over) if a < b]
