"""Entries of a table, found by designation as it is spoken."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Generic, TypeVar

from platekit.errors import UnknownNameError
from platekit.handbook.rows import TableError

Entry = TypeVar("Entry")


def plain(name: str) -> str:
    """Return `name` as lookups compare it: small letters and digits, no spaces, no dashes.

    A decimal comma counts as a point, so "m 2,5" finds "M2.5".
    """
    return re.sub(r"[^a-z0-9.+]", "", name.casefold().replace(",", "."))


@dataclass(frozen=True)
class Catalogue(Generic[Entry]):
    """Entries of one kind, found by designation whatever its case, spaces and dashes.

    Attributes:
        kind: What the entries are, for messages: "screw".
        entries: Entry by designation, in the order of the table.
        aliases: Other names, each with the designation it stands for.
    """

    kind: str
    entries: Mapping[str, Entry]
    aliases: Mapping[str, str]

    @classmethod
    def of(
        cls,
        kind: str,
        entries: Iterable[Entry],
        *,
        name: Callable[[Entry], str],
        aliases: Mapping[str, str] | None = None,
    ) -> Catalogue[Entry]:
        """Return the catalogue of `entries`, each under the name `name` reads from it.

        Raises:
            TableError: Two entries or aliases would be found under one name.
        """
        listed = list(entries)
        found = cls(kind, {name(entry): entry for entry in listed}, aliases or {})
        names = [plain(text) for text in (*map(name, listed), *found.aliases)]
        twice = sorted({text for text in names if names.count(text) > 1})
        if twice:
            raise TableError(f"{kind} {', '.join(twice)} stands twice", remedy="keep one row each")
        return found

    @cached_property
    def _index(self) -> dict[str, Entry]:
        index = {plain(name): entry for name, entry in self.entries.items()}
        index.update({plain(name): self.entries[whole] for name, whole in self.aliases.items()})
        return index

    def __getitem__(self, name: str) -> Entry:
        """Return the entry called `name`.

        Raises:
            UnknownNameError: None is; the message offers the nearest and lists all.
        """
        entry = self._index.get(plain(str(name)))
        if entry is None:
            raise UnknownNameError.among(self.kind, name, self.entries)
        return entry

    @property
    def names(self) -> frozenset[str]:
        """Every designation and alias, as written in the table."""
        return frozenset(self.entries) | frozenset(self.aliases)

    def __iter__(self) -> Iterator[str]:
        """Yield the designations in the order of the table."""
        return iter(self.entries)

    def __len__(self) -> int:
        """Return how many entries there are."""
        return len(self.entries)
