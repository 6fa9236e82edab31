"""How a plan makes its views, and knows what they rest on."""

from __future__ import annotations

from collections.abc import Callable
from inspect import signature
from typing import ClassVar, Generic, Protocol, TypeVar, overload


class _Sectioned(Protocol):
    SECTIONS: ClassVar[frozenset[str]]  # of the design file, that the view itself reads


V = TypeVar("V", bound=_Sectioned)


class View(Generic[V]):
    """A view of the plan, made when it is first asked for and kept.

    It rests on what its constructor names: ``design``, and views by their names on the plan.
    """

    def __init__(self, made: type[V]) -> None:
        self.made: Callable[..., V] = made
        self.sections = made.SECTIONS
        self.rests_on = tuple(signature(made).parameters)

    def __set_name__(self, owner: type, name: str) -> None:
        self._name = name

    @overload
    def __get__(self, plan: None, owner: type) -> View[V]: ...

    @overload
    def __get__(self, plan: object, owner: type) -> V: ...

    def __get__(self, plan: object, owner: type) -> View[V] | V:
        if plan is None:
            return self
        view = self.made(*(getattr(plan, name) for name in self.rests_on))
        vars(plan)[self._name] = view  # found there from now on
        return view
