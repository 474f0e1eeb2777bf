"""An elastomer as a field: text, or a certificate's numbers in the place of the table's."""

from __future__ import annotations

from typing import Annotated, Any

import pytest
from pydantic import BaseModel, ConfigDict, ValidationError

from fits.errors import Fault
from fits.features.elastomer_field import ElastomerField
from fits.features.fields import Undecided
from fits.features.typed_metal import faults_of
from fits.materials.elastomers import Elastomer, elastomer


class Sealed(BaseModel):
    model_config = ConfigDict(arbitrary_types_allowed=True)
    elastomer: Annotated[Elastomer | Undecided, ElastomerField("the rubber")]


def made(value: Any) -> Any:
    return Sealed(elastomer=value).elastomer


def faults(value: Any) -> list[Fault]:
    with pytest.raises(ValidationError) as caught:
        made(value)
    return faults_of(caught.value, Sealed)


def test_text_and_elastomer():
    assert made("NBR 70") == made(elastomer("NBR 70"))
    assert isinstance(made("?"), Undecided)


def test_a_certificate_replaces_what_it_says():
    found = made({"based_on": "VMQ 70", "tr10": "-45 degC", "expansion": "180 um/(m*K)", "highest": "392 degF"})
    assert found.cold_limit(moving=False).low == -53.0
    assert found.cold_limit(moving=False).source.evidence == "typed"
    assert found.expansion.low == pytest.approx(180e-6)
    assert found.highest.low == pytest.approx(200.0)
    assert found.lowest == elastomer("VMQ 70").lowest
    assert found.typed == ("expansion", "highest", "tr10")


@pytest.mark.parametrize(("value", "key", "says"), [
    ("NBR", "elastomer", 'write "NBR 70"'), (70, "elastomer", "material and hardness are due"), ({}, "elastomer.based_on", "missing"),
    ({"based_on": "NBR 70", "tr10": "-40"}, "elastomer.tr10", "needs a unit"), ({"based_on": "NBR 70", "tr11": "-40 degC"}, "elastomer.tr11", 'did you mean "tr10"'),
    ({"based_on": "NBR 70", "tr10": "?"}, "elastomer.tr10", "left open"), ({"based_on": "?"}, "elastomer.based_on", "left open"),
    ({"based_on": "NBR 70", "highest": "100 to 120 degC"}, "elastomer.highest", "one temperature is due"),
])
def test_bad_elastomers_are_refused_with_their_key(value: Any, key: str, says: str):
    found = faults(value)
    assert [fault.key for fault in found] == [key]
    assert says in str(found[0])
