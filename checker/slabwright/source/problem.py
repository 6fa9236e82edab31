"""Problems in a file: where, what is wrong, and what to write instead; collected, then shown together."""

from collections.abc import Iterator
from typing import NamedTuple, NoReturn

from slabwright.source.place import Place

PROBLEMS_AT_MOST = 200  # reading stops there: nobody mends more at one sitting


class Problem(NamedTuple):
    """One thing in a file that keeps it from being read as meant.

    ``wrong`` states what is wrong and ``write`` what to write instead; both are plain sentences
    in the trade's words, with no markup.
    """

    place: Place
    wrong: str
    write: str = ""


class UnreadableError(Exception):
    """A file could not be read as a design (or as amendments, or as a rule); carries every problem found."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(f"{p.place}: {p.wrong}" for p in problems))
        self.problems = problems


class Problems:
    """A list that reading steps add to, so that all problems of a file come out together."""

    def __init__(self) -> None:
        self._found: list[Problem] = []
        self._known: set[Problem] = set()  # a hostile file has very many

    def add(self, place: Place, wrong: str, write: str = "") -> None:
        """Note one problem; a second of the same wording at the same place is dropped."""
        problem = Problem(place, wrong, write)
        if problem not in self._known:
            self._known.add(problem)
            self._found.append(problem)

    def raise_if_any(self) -> None:
        """Raise :class:`UnreadableError` with all problems in file order, if there are any."""
        if self._found:
            raise UnreadableError(tuple(sorted(self._found)))

    def __len__(self) -> int:
        return len(self._found)

    def __iter__(self) -> Iterator[Problem]:
        return iter(sorted(self._found))


def refuse(file: str, wrong: str, write: str) -> NoReturn:
    """Refuse a file, or something named on the command line (``file`` empty), by raising :class:`UnreadableError`."""
    raise UnreadableError((Problem(Place(file), wrong, write),))
