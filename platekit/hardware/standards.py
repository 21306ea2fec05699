"""Tables of fasteners: found by standard first, by thread second."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Generic, TypeVar

from platekit.handbook import Catalogue

Entry = TypeVar("Entry")


@dataclass(frozen=True, slots=True)
class ByStandard(Generic[Entry]):
    """Fasteners of one kind, a catalogue of threads for each standard.

    Attributes:
        kind: What they are, for messages: "nut".
        catalogues: For each standard, its fasteners by thread.
    """

    kind: str
    catalogues: Catalogue[Catalogue[Entry]]

    @classmethod
    def of(
        cls, kind: str, entries: Iterable[Entry], *, keys: Callable[[Entry], tuple[str, str]]
    ) -> ByStandard[Entry]:
        """Return the tables of `entries`; `keys` reads standard and thread from one of them.

        Raises:
            TableError: One thread stands twice in one standard.
        """
        sorted_out: dict[str, list[Entry]] = {}
        for entry in entries:
            sorted_out.setdefault(keys(entry)[0], []).append(entry)
        tables = {
            standard: Catalogue.of(f"{standard} {kind}", listed, name=lambda entry: keys(entry)[1])
            for standard, listed in sorted_out.items()
        }
        return cls(kind, Catalogue(f"standard of a {kind}", tables, {}))

    def find(self, standard: str, thread: str) -> Entry:
        """Return the fastener of a standard and a thread.

        Raises:
            UnknownNameError: No such standard, or no such thread in it; offers the nearest.
        """
        return self.catalogues[standard][thread]

    @property
    def standards(self) -> tuple[str, ...]:
        """The standards, in the order of the table."""
        return tuple(self.catalogues)

    def threads(self, standard: str) -> tuple[str, ...]:
        """Return the threads of a standard, rising.

        Raises:
            UnknownNameError: There is no such standard.
        """
        return tuple(self.catalogues[standard])
