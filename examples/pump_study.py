# %% [markdown]
# # Which liner for the bench pump?
# A study in cells, as notebooks and many editors run them; as a script it prints the same.
# The pump and all its numbers are invented.

# %%
from dataclasses import replace
from pathlib import Path

from fits import Press, check, read_part

here = Path(__file__).parent if "__file__" in globals() else Path("examples")
pump = read_part(str(here / "hand_pump.toml"))
answer = check(pump)
answer  # in a notebook: the rules and values as tables

# %% What every rule has to spare, worst case, in mm, MPa and N
for feature in answer.features:
    for one in feature.checks:
        print(f"{feature.name:8} {one.rule:30} {one.verdict:5} {one.margin:10.4g}")

# %% The same with a liner a hundredth larger
liner = pump.features["liner"]
assert isinstance(liner, Press)
given = {name: getattr(liner, name) for name in liner.model_fields_set}
larger = replace(pump, features={**pump.features, "liner": Press(**{**given, "shaft": "16.070/16.060"})})
print(f"16.060/16.050: {check(pump).verdict}; 16.070/16.060: {check(larger).verdict}")

# %% All values as a table of pandas, to plot or to save
table = answer.frame()
print(table[table["value"] == "contact_pressure"].to_string(index=False))
