"""How a plan makes its views, and knows what they rest on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, Generic, TypeVar, dataclass_transform, overload

if TYPE_CHECKING:
    from slabwright.design.model import Design


@dataclass_transform(eq_default=False)
class PlanView:
    """What a view of the plan is: made of the design and of other views, and worked out when it is first asked.

    A subclass names in its body what it rests on, in the order of its constructor: ``_design: Design``, and other
    views by their names on the plan, ``_finish: Finish``. A dataclass would cost every start more time.
    """

    SECTIONS: ClassVar[frozenset[str]]  # of the design file, that the view itself reads
    RESTS_ON: ClassVar[tuple[str, ...]]

    def __init_subclass__(cls) -> None:
        fields = vars(cls).get("__annotations__", {})
        cls.RESTS_ON = tuple(name.removeprefix("_") for name in fields if name.startswith("_"))

    def __init__(self, *rests_on: Any) -> None:
        for name, one in zip(self.RESTS_ON, rests_on, strict=True):
            setattr(self, f"_{name}", one)
        self.__post_init__()

    @staticmethod
    def unasked(design: Design) -> frozenset[str]:
        """Of the views that it rests on, those it asks nothing of in a design, as in one that has none of its things.

        They are told by sections on which it rests all the same.
        """
        return frozenset()

    def __post_init__(self) -> None:
        """What is worked at once: checks that refuse a design before anything is asked of it."""


V = TypeVar("V", bound=PlanView)


class View(Generic[V]):
    """The place of a view on the plan, where it is made when it is first asked for and kept."""

    def __init__(self, made: type[V]) -> None:
        self.made = made
        self.sections = made.SECTIONS
        self.rests_on = made.RESTS_ON

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
