"""``dataclass`` of the standard library, made in a fifth of the time: a check needs 260 of them before it can begin.

The standard library writes and compiles six methods for every class. Here it collects the fields as ever, one method is
compiled, and the others are the same few functions for all classes. What a class can do, and how it is written, is the same.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass
else:
    from dataclasses import MISSING, FrozenInstanceError, fields
    from dataclasses import dataclass as collected
    from operator import attrgetter
    from reprlib import recursive_repr
    from types import MemberDescriptorType

    def dataclass(kind=None, /, *, frozen=False, slots=False, eq=True):
        """As ``dataclasses.dataclass``, of these three words."""
        if kind is None:
            return lambda kind: dataclass(kind, frozen=frozen, slots=slots, eq=eq)
        written = dict(kind.__dict__)
        if kind.__doc__ is None:
            kind.__doc__ = kind.__name__  # working it out from the fields takes longer than all else
        made = collected(kind, init=False, repr=False, eq=False, slots=slots)
        every = fields(made)
        if "__init__" not in written:
            made.__init__ = _init_when_needed(made, every, frozen)
        if "__repr__" not in written:
            made._dataclass_shown = tuple(field.name for field in every if field.repr)
            made.__repr__ = _repr
        if eq and "__eq__" not in written:
            made._dataclass_compared = staticmethod(_getter([field.name for field in every if field.compare]))
            made.__eq__ = _eq
            if "__hash__" not in written:
                made.__hash__ = _hash if frozen else None
        if frozen:
            made.__setattr__, made.__delattr__ = _setattr, _delattr
            if slots:
                made.__getstate__, made.__setstate__ = _getstate, _setstate
        return made

    def _init_when_needed(made, every, frozen):
        """What compiles the method the first time a thing of the class is made: of many classes a check makes none."""

        def first(self, *given, **named):
            made.__init__ = _init(made, every, frozen)
            made.__init__(self, *given, **named)

        return first

    def _init(made, every, frozen):
        told, lines, known = [], [], {"_MISSING": MISSING}
        for field in every:
            name, default, given = field.name, f"_default_{field.name}", field.name
            if field.default_factory is not MISSING:
                known[default] = field.default_factory
                given = f"{default}() if {name} is _MISSING else {name}" if field.init else f"{default}()"
                told.append(f"{name}=_MISSING" if field.init else "")
            elif field.default is not MISSING:
                known[default] = field.default
                given = name if field.init else default
                told.append(f"{name}={default}" if field.init else "")
            elif field.init:
                told.append(name)
            else:
                continue
            slot = getattr(made, name, None)
            if not frozen:
                lines.append(f"self.{name} = {given}")
            elif isinstance(slot, MemberDescriptorType):
                known[f"_set_{name}"] = slot.__set__
                lines.append(f"_set_{name}(self, {given})")
            else:
                lines.append(f"_held[{name!r}] = {given}")
        if any(line.startswith("_held[") for line in lines):
            lines.insert(0, "_held = self.__dict__")
        if hasattr(made, "__post_init__"):
            lines.append("self.__post_init__()")
        found = {}
        exec(
            f"def __init__({', '.join(['self', *filter(None, told)])}):\n  " + "\n  ".join(lines or ["pass"]),
            known,
            found,
        )
        init = found["__init__"]
        init.__qualname__ = f"{made.__qualname__}.__init__"
        return init

    def _getter(names):
        """What gives the values of fields as a tuple."""
        if len(names) > 1:
            return attrgetter(*names)
        return lambda one: tuple(getattr(one, name) for name in names)

    @recursive_repr("...")
    def _repr(self):
        shown = ", ".join(f"{name}={getattr(self, name)!r}" for name in self._dataclass_shown)
        return f"{self.__class__.__qualname__}({shown})"

    def _eq(self, other):
        if other.__class__ is not self.__class__:
            return NotImplemented
        return self._dataclass_compared(self) == self._dataclass_compared(other)

    def _hash(self):
        return hash(self._dataclass_compared(self))

    def _setattr(self, name, value):
        raise FrozenInstanceError(f"cannot assign to field {name!r}")

    def _delattr(self, name):
        raise FrozenInstanceError(f"cannot delete field {name!r}")

    def _getstate(self):
        return [getattr(self, field.name) for field in fields(self)]

    def _setstate(self, state):
        for field, value in zip(fields(self), state, strict=True):
            object.__setattr__(self, field.name, value)
