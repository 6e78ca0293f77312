"""Every rule fires where it should, is silent where it should, and turns at its threshold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from finishplan.hazards import RULES, Context, Rule, review_of
from finishplan.hazards.note import level_of
from finishplan.physics.dust import DustFamily, DustSample
from finishplan.reference import Value

BY_ID = {rule.id: rule for rule in RULES}

Make = Callable[[Callable[..., Context]], Context]
Edge = tuple[Make, str | None]


def with_tool(**changes: Any) -> Make:
    return lambda facts: facts("steel", "bonded", turning=changes)


def cell(material: str = "aluminium", tool: str = "burr", **installed: Any) -> Make:
    return lambda facts: facts(material, tool, installed=installed)


def holding(material: str, **content: float) -> Make:
    return lambda facts: facts(material, content=content)


def coated(*content: str) -> Make:
    return lambda facts: facts("primer", "orbital", coating_content=content)


def on_device(kind: str, *, pneumatic: bool = False, **installed: Any) -> Make:
    from finishplan.hazards.context import Device

    device = Device("device", kind, 60.0, 0.02, pneumatic)
    return lambda facts: facts(work={"device": device}, installed=installed)


def burning(**figures: tuple[float, float]) -> Make:
    """Aluminium dust with a family of one sample of our own."""
    unknown: dict[str, Any] = dict.fromkeys(
        ("pressure", "deflagration_index", "explosible_concentration", "ignition_energy", "cloud_temperature")
    )
    sample = DustSample("sample", **{**unknown, **figures}, source="a test", grade="derived")
    return lambda facts: facts("aluminium", families={"light-metal": DustFamily("aluminium", (sample,))})


def idle(facts: Callable[..., Context]) -> Context:
    """Nothing is worked, so nothing turns and nothing moves."""
    return replace(facts(), works=())


def nothing_removed(facts: Callable[..., Context]) -> Context:
    return facts(work={"volume": 0.0, "most_volume": 0.0})


def marked(speed: float) -> Value:
    return Value(speed, None, None, "m/s", "from-memory", "a test", "from memory", "test")


@dataclass(frozen=True)
class Case:
    """Facts that raise a rule with the level they give, facts that do not, and facts on either side of an edge."""

    fires: Edge
    silent: Make
    inside: Edge
    outside: Edge


CASES = {
    "dust-amount": Case(
        (cell(), "check"),
        nothing_removed,
        (cell(collector_capacity="3.889 kg"), "check"),
        (cell(collector_capacity="3.887 kg"), "fix before running"),
    ),
    "dust-exposure": Case(
        (cell("stainless"), "check"),
        cell("oak"),
        (cell("stainless", dust_sample="0.1875 mg/m3"), "check"),
        (cell("stainless", dust_sample="0.1876 mg/m3"), "fix before running"),
    ),
    "wood-dust": Case(
        (cell("oak", "orbital"), "check"),
        cell("steel"),
        (cell("oak", dust_sample="1 mg/m3"), "check"),
        (cell("oak", dust_sample="1.01 mg/m3"), "fix before running"),
    ),
    "nickel": Case(
        (cell("stainless"), "check"),
        cell("aluminium"),
        (holding("stainless", nickel=0.001), "check"),
        (holding("stainless", nickel=0.000999), None),
    ),
    "chromium-hexavalent": Case(
        (cell("stainless"), "check"),
        cell("steel"),
        (holding("steel", chromium=0.001), "check"),
        (holding("steel", chromium=0.000999), None),
    ),
    "cobalt": Case(
        (holding("steel", cobalt=0.05), "check"),
        cell("steel"),
        (holding("steel", cobalt=0.001), "check"),
        (holding("steel", cobalt=0.000999), None),
    ),
    "cadmium": Case(
        (holding("brass", cadmium=0.01), "fix before running"),
        cell("brass"),
        (holding("brass", cadmium=0.001), "check"),
        (holding("brass", cadmium=0.000999), None),
    ),
    "carbon-fibre": Case(
        (cell("carbon"), "check"),
        cell("glass"),
        (cell("carbon", dust_sample="2 mg/m3"), "check"),
        (cell("carbon", dust_sample="2.01 mg/m3"), "fix before running"),
    ),
    "beryllium": Case(
        (holding("brass", copper=0.98, beryllium=0.02), "fix before running"),
        cell("brass"),
        (holding("brass", beryllium=0.001), "check"),
        (holding("brass", beryllium=0.000999), None),
    ),
    "lead": Case(
        (cell("brass"), "check"),
        cell("steel"),
        (holding("brass", lead=0.001), "check"),
        (holding("brass", lead=0.000999), None),
    ),
    "coating-content": Case(
        (cell("primer", "orbital"), "check"),
        cell("steel"),
        (coated("none"), "note"),
        (coated("lead"), "fix before running"),
    ),
    "silica": Case(
        (cell("primer", "orbital"), "check"),
        cell("polymer"),
        (coated("chromate"), "note"),
        (coated("silica", "chromate"), "fix before running"),
    ),
    "glass-fibre": Case(
        (cell("glass"), "check"),
        cell("carbon"),
        (cell("glass", fibre_count="3 f/cm3"), "check"),
        (cell("glass", fibre_count="3.01 f/cm3"), "fix before running"),
    ),
    "extraction-flow": Case(
        (cell("steel", "belt"), "check"),
        nothing_removed,
        (cell("steel", "belt", extraction_flow="300 cfm"), "check"),
        (cell("steel", "belt", extraction_flow="299.9 cfm"), "fix before running"),
    ),
    "exhaust-table": Case(
        (with_tool(diameter=1.0), "check"),
        cell("steel", "orbital"),
        (with_tool(diameter=36 * 0.0254), None),
        (with_tool(diameter=36.1 * 0.0254), "check"),
    ),
    "capture-reach": Case(
        (cell(), "check"),
        cell(booth_opening="0.1 m2"),
        (cell(extraction_flow="0.5 m3/s", hood_opening="0.03 m2", capture_distance="150 mm"), "check"),
        (cell(extraction_flow="0.5 m3/s", hood_opening="0.03 m2", capture_distance="151 mm"), "fix before running"),
    ),
    "face-velocity": Case(
        (cell(booth_opening="0.2 m2"), "check"),
        cell(),
        (cell(booth_opening="1 ft2", extraction_flow="200 cfm"), "check"),
        (cell(booth_opening="1 ft2", extraction_flow="199.9 cfm"), "fix before running"),
    ),
    "duct-velocity": Case(
        (cell("steel"), "check"),
        nothing_removed,
        (cell("steel", "belt", extraction_flow="0.13965 m3/s", duct_diameter="100 mm"), "check"),
        (cell("steel", "belt", extraction_flow="0.13960 m3/s", duct_diameter="100 mm"), "fix before running"),
    ),
    "combustible-dust": Case(
        (cell("steel"), "check"),
        cell("brass"),
        (burning(deflagration_index=(0.0, 0.0)), "note"),
        (burning(deflagration_index=(0.0, 1e3)), "check"),
    ),
    "earthing": Case(
        (cell("polymer"), "check"),
        cell("steel"),
        (burning(ignition_energy=(0.030, 0.030)), None),
        (burning(ignition_energy=(0.0299, 0.060)), "check"),
    ),
    "duct-dilution": Case(
        (cell(), "check"),
        cell("brass"),
        (cell(extraction_flow="0.0361 m3/s"), "check"),
        (cell(extraction_flow="0.0359 m3/s"), "stop"),
    ),
    "collector-kind": Case(
        (cell(), "check"),
        cell("steel"),
        (cell(collector="dry outdoors"), "note"),
        (cell(collector="dry indoors"), "stop"),
    ),
    "collector-sharing": Case(
        (cell(), "check"),
        cell("brass"),
        (cell("steel", collector_shared_with=["stainless-nickel"]), "note"),
        (cell("steel", collector_shared_with=["light-metal"]), "stop"),
    ),
    "collector-protection": Case(
        (cell("oak"), "check"),
        cell(collector="wet"),
        (cell("oak", collector_protected=True), "note"),
        (cell("oak", collector_protected=False), "fix before running"),
    ),
    "hydrogen": Case(
        (cell(), "check"),
        cell(collector="dry outdoors"),
        (cell(collector="wet", collector_vent_flow="60.6 m3/h"), "check"),
        (cell(collector="wet", collector_vent_flow="60.5 m3/h"), "fix before running"),
    ),
    "sparks": Case(
        (cell("steel", "belt"), "check"),
        cell("steel", "burr"),
        (cell("steel", "belt", spark_trap=True), "note"),
        (cell("steel", "belt", spark_trap=False), "fix before running"),
    ),
    "extinguishing": Case(
        (cell(), "check"),
        cell("polymer"),
        (cell(extinguishing_agent="dry sand"), "note"),
        (cell(extinguishing_agent="water"), "fix before running"),
    ),
    "conductive-dust": Case(
        (cell("carbon"), "check"),
        cell("glass"),
        (cell("carbon", cabinet_protection=6), "note"),
        (cell("carbon", cabinet_protection=5), "fix before running"),
    ),
    "dust-layer": Case(
        (cell(), "check"),
        cell("brass"),
        (cell(floor_area="102 m2"), "note"),
        (cell(floor_area="101 m2"), "check"),
    ),
    "rated-speed": Case(
        (with_tool(free_rotation=700.0), "stop"),
        idle,
        (with_tool(free_rotation=650.0), "check"),
        (with_tool(free_rotation=650.1), "stop"),
    ),
    "rim-speed": Case(
        (with_tool(marked_speed=marked(50.0)), "check"),
        cell(),
        (with_tool(marked_speed=marked(50.0), free_rotation=63.66), "note"),
        (with_tool(marked_speed=marked(50.0), free_rotation=63.67), "check"),
    ),
    "wheel-guard": Case(
        (with_tool(), "check"),
        cell("steel", "belt"),
        (cell("steel", "bonded", wheel_guard_angle="180 deg"), "check"),
        (cell("steel", "bonded", wheel_guard_angle="180.1 deg"), "stop"),
    ),
    "wheel-burst": Case(
        (with_tool(), "check"),
        cell("steel", "belt"),
        (lambda facts: facts("steel", "bonded", turning={"free_rotation": 79.577}, installed={"guard_energy": "377 J"}),
         "check"),
        (lambda facts: facts("steel", "bonded", turning={"free_rotation": 79.577}, installed={"guard_energy": "375 J"}),
         "stop"),
    ),
    "jammed-disc": Case(
        (cell("oak", "saw"), "check"),
        cell("steel", "belt"),
        (cell("oak", "saw", guard_energy="5979 J"), "check"),
        (cell("oak", "saw", guard_energy="5978 J"), "stop"),
    ),
    "thrown-cutter": Case(
        (cell(), "check"),
        cell("steel", "belt"),
        (cell(guard_energy="38 J"), "check"),
        (cell(guard_energy="37.9 J"), "stop"),
    ),
    "guard-opening": Case(
        (cell(), "check"),
        idle,
        (cell(guard_opening="12 mm", guard_distance="100 mm"), "check"),
        (cell(guard_opening="12.1 mm", guard_distance="100 mm"), "stop"),
    ),
    "guard-distance": Case(
        (cell(), "check"),
        cell(guard_locking=True),
        (cell(stopping_time="0.5 s", guard_distance="800 mm"), "check"),
        (cell(stopping_time="0.5 s", guard_distance="799 mm"), "stop"),
    ),
    "guard-locking": Case(
        (cell(), "check"),
        idle,
        (cell(run_down_time="0.5 s", guard_distance="800 mm"), "check"),
        (cell(run_down_time="0.51 s", guard_distance="800 mm"), "stop"),
    ),
    "unlocking": Case(
        (cell(guard_locking=True), "check"),
        cell(guard_locking=False),
        (cell(guard_locking=True, unlock_delay="5 s", run_down_time="5 s"), "check"),
        (cell(guard_locking=True, unlock_delay="4.99 s", run_down_time="5 s"), "stop"),
    ),
    "light-curtain": Case(
        (cell(light_curtain_resolution="30 mm"), "check"),
        cell(),
        (cell(light_curtain_resolution="30 mm", stopping_time="0.2 s", run_down_time="0.2 s",
              light_curtain_distance="500 mm"), "check"),
        (cell(light_curtain_resolution="30 mm", stopping_time="0.2 s", run_down_time="0.2 s",
              light_curtain_distance="499 mm"), "stop"),
    ),
    "manual-speed": Case(
        (cell(), "check"),
        lambda facts: facts(top_speed=0.25),
        (cell(manual_speed="250 mm/s"), "check"),
        (cell(manual_speed="251 mm/s"), "fix before running"),
    ),
    "collaborative": Case(
        (lambda facts: facts(robot="collaborative"), "check"),
        cell(),
        (lambda facts: facts(robot="collaborative", air_speed=0.2), "note"),
        (lambda facts: facts(robot="collaborative", air_speed=0.201), "check"),
    ),
    "noise-osha": Case(
        (cell(), "check"), idle, (cell(noise_level="85 dB(A)"), "check"),
        (cell(noise_level="85.1 dB(A)"), "fix before running"),
    ),
    "noise-niosh": Case(
        (cell("steel", "belt"), "fix before running"), idle, (cell(noise_level="85 dB(A)"), "check"),
        (cell(noise_level="85.1 dB(A)"), "fix before running"),
    ),
    "noise-eu": Case(
        (cell("oak", "orbital"), "fix before running"), idle, (cell(noise_level="85 dB(A)"), "check"),
        (cell(noise_level="85.1 dB(A)"), "fix before running"),
    ),
    "noise-eu-lower": Case(
        (cell(), "check"), cell(noise_level="79.9 dB(A)"), (cell(noise_level="79.9 dB(A)"), None),
        (cell(noise_level="80 dB(A)"), "check"),
    ),
    "noise-highest": Case(
        (cell(noise_level="120 dB(A)"), "stop"), cell(noise_level="114.9 dB(A)"),
        (cell(noise_level="115 dB(A)"), "check"), (cell(noise_level="115.1 dB(A)"), "stop"),
    ),
    "residual-force": Case(
        (on_device("radial", pneumatic=True), "check"),
        on_device("force-controlled"),
        (on_device("radial", pneumatic=True, device_vented=True), "note"),
        (on_device("radial", pneumatic=True, device_vented=False), "fix before running"),
    ),
    "force-loss": Case(
        (on_device("force-controlled"), "check"),
        on_device("radial", pneumatic=True),
        (on_device("force-controlled", force_monitored=True), "note"),
        (on_device("force-controlled", force_monitored=False), "fix before running"),
    ),
    "changer-drop": Case(
        (lambda facts: facts(tool_changes=1), "check"),
        lambda facts: facts(tool_changes=2, part_carried=True),
        (lambda facts: facts(tool_changes=2, installed={"changer_locks_without_air": True}), "note"),
        (lambda facts: facts(tool_changes=2, installed={"changer_locks_without_air": False}), "fix before running"),
    ),
    "dropped-part": Case(
        (lambda facts: facts(part_carried=True), "check"),
        cell(),
        (lambda facts: facts(part_carried=True, installed={"gripper_holds_without_power": True}), "note"),
        (lambda facts: facts(part_carried=True, installed={"gripper_holds_without_power": False}),
         "fix before running"),
    ),
    "thrown-part": Case(
        (lambda facts: facts(part_carried=True), "check"),
        cell(),
        # 1 kg at the rim of 10 mm, 500 1/s: 123.4 J
        (lambda facts: facts(part_carried=True, part_mass=1.0, installed={"guard_energy": "155 J"}), "note"),
        (lambda facts: facts(part_carried=True, part_mass=1.0, installed={"guard_energy": "123 J"}), "check"),
    ),
    "hold-loss": Case(
        (lambda facts: facts(holding="vacuum"), "check"),
        cell(),
        (lambda facts: facts(holding="vacuum", installed={"holding_monitored": True}), "note"),
        (lambda facts: facts(holding="vacuum", installed={"holding_monitored": False}), "fix before running"),
    ),
    "lockout": Case(
        (cell(), "check"),
        idle,
        (cell(lockout_procedure=True), "note"),
        (cell(lockout_procedure=False), "fix before running"),
    ),
}  # fmt: skip


def level(rule: Rule[Context], context: Context) -> str | None:
    """Level a rule gives, None where it is silent."""
    finding = rule.find(context)
    return None if finding is None else level_of(rule.when_broken, finding.compared, context.margin)


def test_every_rule_has_its_cases() -> None:
    assert CASES.keys() == BY_ID.keys()
    assert len(BY_ID) == len(RULES)


@pytest.mark.parametrize("name", CASES)
def test_fires(name: str, facts) -> None:
    make, expected = CASES[name].fires
    assert level(BY_ID[name], make(facts)) == expected


@pytest.mark.parametrize("name", CASES)
def test_is_silent(name: str, facts) -> None:
    assert BY_ID[name].find(CASES[name].silent(facts)) is None


@pytest.mark.parametrize("name", CASES)
def test_turns_at_its_threshold(name: str, facts) -> None:
    (inside, kinder), (outside, harsher) = CASES[name].inside, CASES[name].outside
    assert level(BY_ID[name], inside(facts)) == kinder
    assert level(BY_ID[name], outside(facts)) == harsher
    assert kinder != harsher


@pytest.mark.parametrize("name", CASES)
def test_what_is_not_known_is_asked_for(name: str, facts) -> None:
    """A note that cannot be settled names at least one key that would settle it."""
    finding = BY_ID[name].find(CASES[name].fires[0](facts))
    assert finding is not None
    assert finding.compared.band is not None or finding.asks


@pytest.mark.parametrize("rule", RULES, ids=BY_ID)
def test_words_of_a_rule(rule: Rule[Context]) -> None:
    for text in (rule.title, rule.source, rule.decides, rule.check):
        assert text.strip()
        assert "safe" not in text.casefold()
    assert rule.check.endswith((".", "?"))


def test_notes_come_by_group_and_then_the_gravest_first(facts) -> None:
    notes = review_of(facts(installed={"collector": "dry indoors", "noise_level": "90 dB(A)"})).notes
    groups = [note.rule.group for note in notes]
    assert list(dict.fromkeys(groups)) == ["dust", "fire", "guarding", "noise", "handling"]
    assert next(note.rule.id for note in notes if note.rule.group == "fire") == "collector-kind"


@pytest.mark.parametrize("name", CASES)
def test_further_figures_have_names_of_their_own(name: str, facts) -> None:
    """Two figures under one name would overwrite each other in machine-readable output."""
    for make, _ in (CASES[name].fires, CASES[name].inside, CASES[name].outside):
        found = BY_ID[name].find(make(facts))
        labels = [amount.label for amount in found.also] if found else []
        assert len(labels) == len(set(labels))
