"""The field of an elastomer: material and hardness, or what a certificate says of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, ValidationError

from fits.errors import Fault, InputError
from fits.features.fields import Context, Field, Measure, Spread, Undecided
from fits.features.typed_metal import faults_of
from fits.materials.elastomers import Elastomer, Known, elastomer
from fits.tables import Source

_TYPED = Source("elastomer: typed", "typed")


class ElastomerField(Field):
    """The rubber of a ring."""

    made = (Elastomer,)
    inline = '{based_on = "NBR 70", tr10 = "-38 degC"}'

    def parse(self, value: Any, context: Context) -> Elastomer:
        """The elastomer of the table, or one with typed values in the place of the table's."""
        if isinstance(value, Mapping):
            return _typed(value, context)
        if not isinstance(value, str):
            hint = 'such as "NBR 70"'
            raise InputError(Fault("an elastomer's material and hardness are due", got=str(value), hint=hint))
        return elastomer(value)

    def shown(self) -> str:
        """An elastomer."""
        return "ELASTOMER"


class TypedElastomer(BaseModel):
    """The keys of an inline elastomer: its certificate in the place of the table."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)

    based_on: Annotated[Elastomer | Undecided, ElastomerField("elastomer that the rest comes from")]
    lowest: Annotated[
        Spread | None, Measure("lowest service temperature", quantity="temperature", least=-273.15)
    ] = None
    highest: Annotated[
        Spread | None, Measure("highest service temperature", quantity="temperature", most=400.0)
    ] = None
    tr10: Annotated[Spread | None, Measure("TR10", quantity="temperature", least=-273.15, most=100.0)] = None
    expansion: Annotated[
        Spread | None, Measure("linear expansion, or a range", quantity="expansion", least=0.0, most=1e-3)
    ] = None


def _typed(keys: Mapping[str, Any], context: Context) -> Elastomer:
    try:
        typed = TypedElastomer.model_validate(dict(keys), context=context)
    except ValidationError as error:
        raise InputError(faults_of(error, TypedElastomer)) from None
    given = {name: getattr(typed, name) for name in typed.model_fields_set}
    left = [name for name, value in given.items() if isinstance(value, Undecided)]
    if left or isinstance(typed.based_on, Undecided):
        raise InputError([Fault("a property of an elastomer can't be left open", "?", name) for name in left])
    ends = {name: given[name] for name in ("lowest", "highest") if isinstance(given.get(name), Spread)}
    ranges = [Fault("one temperature is due", v.text, name) for name, v in ends.items() if v.low != v.high]
    if ranges:
        raise InputError(ranges)
    changes: dict[str, Any] = {
        name: Known(value.low, value.high, _TYPED)
        for name, value in given.items()
        if isinstance(value, Spread)
    }
    return typed.based_on._replace(**changes, typed=tuple(sorted(changes)))
