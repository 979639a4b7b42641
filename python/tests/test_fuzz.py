"""Hostile arguments at every door of Python: every document, function and method of the stub.

Whatever comes in, the answer is a result whose texts show no number that nobody should see, or a
ProofspanError whose issues have code, sentence, remedy and a place in what the caller gave: no other
exception, no abort, no hang. `PROOFSPAN_SOAK=1` runs half an hour (`PROOFSPAN_FUZZ_SECONDS` another
time), `PROOFSPAN_SEED` chooses where it begins; the case that runs stands in
`proofspan_fuzz_running.txt` of the folder for temporary files.
"""

from __future__ import annotations

import ast
import faulthandler
import json
import math
import os
import random
import re
import tempfile
import time
from collections.abc import Callable, Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import proofspan as ps
from proofspan.units import kN, m

ROOT = Path(__file__).parents[2]
SCENARIOS = ROOT / "examples" / "scenarios"
CODES = {row[0] for row in ps.codes()}
SEED = int(os.environ.get("PROOFSPAN_SEED", "7"))
SOAK = "PROOFSPAN_SOAK" in os.environ
RUNNING = (Path(tempfile.gettempdir()) / "proofspan_fuzz_running.txt").open("w", encoding="utf-8", errors="replace") if SOAK else None
SECONDS = float(os.environ.get("PROOFSPAN_FUZZ_SECONDS") or ("1800" if SOAK else "6"))
LONGEST = 2.0
# a picture of ten thousand loads is drawn by matplotlib
LONGEST_PICTURE = 20.0


def shipped(name: str) -> str:
    return (SCENARIOS / name).read_text(encoding="utf-8")


DOCUMENT = json.loads(shipped("terrace_strip.test.json"))
OTHER = json.loads(shipped("gallery_beam.test.json"))
LOG = shipped("terrace_strip.log.csv")
LOG_LAYOUT = json.loads(shipped("terrace_strip.log.json"))
RECORD = json.loads(shipped("terrace_strip.record.json"))

# A whole example of every document class, as JSON would hold it.
EXAMPLES: dict[str, dict[str, Any]] = {
    "TestSpec": DOCUMENT,
    "Scope": {**DOCUMENT["scope"], "findings": [{"kind": "saw_cut", "note": "hairline"}]},
    "Member": DOCUMENT["scope"]["member"],
    "Doubt": DOCUMENT["scope"]["doubt"],
    "Sharing": DOCUMENT["scope"]["sharing"],
    "Finding": {"kind": "saw_cut", "note": "hairline"},
    "BeamSpec": DOCUMENT["beam"],
    "Rigidity": DOCUMENT["beam"]["soft"],
    "SupportSpec": {"at": "6 m", "kind": "fixed", "settlement": "5 mm"},
    "StretchSpec": {"from": "3 m", "soft": DOCUMENT["beam"]["soft"], "stiff": DOCUMENT["beam"]["stiff"]},
    "StageSpec": {"name": "second", "doubt": DOCUMENT["scope"]["doubt"]},
    "SearchSpec": {"at_most": 2, "step": "1 m", "clear": "0.5 m"},
    "Loads": DOCUMENT["loads"],
    "Action": DOCUMENT["loads"]["actions"][0],
    "Taper": DOCUMENT["loads"]["actions"][4]["taper"],
    "PointAction": {"force": "5 kN", "at": "2 m"},
    "EditionChoice": {"id": "ACI 437.2-13", "facts": {"parking": False}},
    "Facts": {"parking": False, "live": "2 kPa"},
    "LayoutSpec": DOCUMENT["layout"],
    "JackLine": {"at": "6 ft"},
    "Spreader": {"contacts": ["5 ft", "7 ft"]},
    "Pad": {"from": "2 m", "to": "3 m"},
    "Bags": {"from": "1 m", "to": "7 m", "pile": "0.9 m", "gap": "0.1 m", "width": "2 m", "unit_weight": "15 kN/m^3", "layer": "0.2 m", "most_layers": 6},
    "Water": {"from": "0 m", "to": "8 m", "width": "2 m", "rim": "1 m", "freeboard": "0.1 m"},
    "Wheels": {"at": "2 m", "behind": ["1.5 m"]},
    "OvershootLimit": DOCUMENT["layout"]["limits"][0],
    "Candidate": {"contacts": ["3 m", "5 m"], "plate": "200 mm", "capacity": "90 kN", "at_least": "5 kN"},
    "Reach": {"effect": "moment", "from": "2 m", "to": "6 m"},
    "Within": {"effect": "moment", "basis": "net", "at_most": 1.5},
    "MomentLimit": {"of": "strength", "sagging": "500 kN·m", "share": 0.9},
    "ShearLimit": {"strength": "500 kN", "share": 0.9},
    "DeflectionLimit": {"down": "50 mm", "up": "5 mm"},
    "ReactionLimit": {"support": 0, "at_least": "0 kN", "at_most": "900 kN"},
    "ShearSpan": {"at_least": "0.2 m", "at_most": "9 m", "basis": "net"},
    "Objective": {"of": "overshoot", "effect": "moment", "basis": "net"},
    "Room": {"from": "1 m", "to": "3 m"},
    "Deviations": {"place": "20 mm", "force": 0.02},
    "RigSpec": DOCUMENT["rig"],
    "ReactionMember": DOCUMENT["rig"]["reaction"],
    "Anchor": {"at": "-2 ft", "capacity": "60 kip"},
    "Counterweight": {"force": "10 kip", "at": "3 ft"},
    "Jacks": DOCUMENT["rig"]["jacks"],
    "Bars": DOCUMENT["rig"]["bars"],
    "ShoringSpec": DOCUMENT["shoring"],
    "CapacitySpec": {
        "sections": [
            {
                "section": {
                    "shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
                    "concrete": {"strength": {"specified": "30 MPa"}, "modulus": "25 GPa"},
                    "bars": [{"area": "1500 mm²", "depth": "540 mm", "yields": {"specified": "420 MPa"}}],
                }
            }
        ],
        "code": "ACI 318-19",
        "cracking": "ACI 318-19, MPa",
    },
    "Catch": DOCUMENT["shoring"]["catch"][0],
    "Stub": DOCUMENT["shoring"]["stub"],
    "Level": DOCUMENT["shoring"]["levels"][0],
    "ProtocolSpec": DOCUMENT["protocol"],
    "Gauge": DOCUMENT["protocol"]["gauges"][0],
    "SiteRecords": DOCUMENT["records"],
    "LogSpec": LOG_LAYOUT,
    "RunRecord": RECORD,
}

BEAM = ps.Beam.simple("8 m", "30000 kN·m²")
LOADS = ps.Loads(width="2 m", self_weight="4 kPa", live="3 kPa", in_place=["self_weight"])
TARGET = ps.target(BEAM, LOADS, "ACI 437.2-13", ps.Doubt("flexure", "2 m", "6 m"), "strip")
CASE = BEAM.response([ps.Load.line("0 m", "8 m", "5 kN/m")])
REFERENCE = ps.Reference(BEAM, {"live": ps.Load.line("0 m", "8 m", "5 kN/m")}, [], ("3 m", "5 m"))
JACKS = [ps.jack("3 m"), ps.jack("5 m")]
REACH = ps.Reach("moment", sense="positive")
FOUND = ps.optimise(REFERENCE, JACKS, "total", [REACH])
CONFLICT = ps.optimise(REFERENCE, JACKS, "total", [REACH, ps.MomentLimit("strength", sagging="1 kN·m")])
# a section of one strip, so that there is something to draw of what is predicted
PREDICTING = {
    "unit": "strip", "code": "ACI 318-19", "cracking": "ACI 318-19, psi",
    "sections": {"section": {
        "shape": {"kind": "rectangle", "width": "12 in", "height": "22 in"},
        "concrete": {"strength": "3000 psi", "modulus": "4000 ksi"},
        "bars": {"area": "6 in^2", "depth": "20 in", "yields": "60 ksi"},
    }},
}  # fmt: skip
DESIGN = ps.design({**DOCUMENT, "capacity": PREDICTING})
JUDGEMENT = ps.judge(DESIGN, LOG, LOG_LAYOUT, RECORD, series=True)

# One object of every class with methods.
CATCH = {"at": "5 m", "stiffness": "10 kN/mm", "gap": "10 mm", "resistance": {"posts": 4, "rated": "100 kN"}}
ACCEPTED = ps.acceptance("ACI 437.2-13", "12 mm", residual="3 mm", span="6 m", depth="400 mm")
LOADED = ps.test_load("ACI 437.2-13", {"self_weight": "5 kPa", "live": "4 kPa"}, in_place=["self_weight"])
REACTING = ps.reaction("8 m", "10 kN/m", [("3 m", "60 kN")], weights=[("2 m", "20 kN")])
PRESSED = ps.hydraulics("100 kN", rated_pressure="70 MPa", stroke="150 mm", area="0.01 m²")
SECTION = {
    "shape": {"kind": "rectangle", "width": "300 mm", "height": "600 mm"},
    "concrete": {"strength": "30 MPa", "modulus": "25 GPa"},
    "bars": {"area": "1500 mm²", "depth": "540 mm", "yields": "420 MPa"},
}
STRONG = ps.section_strength(SECTION, code="ACI 318-19", cracking="ACI 318-19, MPa", moment="90 kN·m")
BENT = ps.deflections("6 m", SECTION, "0 kN/m", [("3 m", "120 kN")], cracking="ACI 318-19, MPa")
CAUGHT = ps.catch(
    "10 m", "10 kN/m", CATCH, mode="shear", region=("0 m", "1 m"), reading="4 mm", to_ground=True,
    levels=[{"id": "below", "stiffness": "8 kN/mm", "spare": "300 kN"}], post_stiffness="60 kN/mm",
)  # fmt: skip
CODE = ps.edition("ACI 437.2-13")
SHEARED = ps.shear_strength("ACI 318-19", "30 MPa", "300 mm", "500 mm", "1000 mm²", phi=0.75)
WRAPPED = ps.wrap_shear(
    "u_wrap", "20 MPa", "400 mm", thickness="0.165 mm", modulus="230 GPa", ultimate_strain="0.0155 m/m", width="250 mm",
    spacing="300 mm", test="100 kN", flexure_shear="150 kN",
)  # fmt: skip
REDUCED = ps.without_strengthening("shear", ["ACI 440.2R (9.2)"], "100 kN", "150 kN", strength="230 kN")
LOCAL = ps.local_strength("bearing", strength="20 MPa", area="0.02 m²", spread="0.08 m²", phi=0.65, test="300 kN")
ADDED = ps.added_stirrups("250 mm²", "200 mm", reached="280 MPa", depth="450 mm")
STRIP = ps.bonded_strip(
    "100 mm²", "160 GPa", "600 mm", debonding_strain="0.006 m/m", installed_strain="0.0005 m/m",
    crushing_strain="0.003 m/m", neutral_axis="120 mm", compression="50 mm",
)  # fmt: skip
RATIO = ps.shared_ratio(1.2, 6.0, 0.05)
ALL_EDITIONS = DESIGN.side_by_side(LOG, LOG_LAYOUT, RECORD)
OWNERS: dict[str, Any] = {
    "Part": DESIGN.rig.presses[0],
    "SharedRatio": RATIO,
    "ByEdition": ALL_EDITIONS.editions[0],
    "SideBySide": ALL_EDITIONS,
    "Working": REACTING.working(),
    "WorkingStep": REACTING.working()[0],
    "Edition": CODE,
    "EditionSet": CODE.sets[0],
    "EditionRow": CODE.sets[0].rows[0],
    "EditionCriterion": CODE.criteria[0],
    "EditionProtocol": CODE.protocols[0],
    "EditionRetest": CODE.retests[0],
    "EditionStopRule": next(r for e in ps.editions() for r in ps.edition(e[0]).stop_rules),
    "EditionBridgeProof": next(b for e in ps.editions() if (b := ps.edition(e[0]).bridge_proof) is not None),
    "Verdict": ACCEPTED.verdicts[0],
    "CriterionOutcome": ACCEPTED.criteria[0],
    "Acceptance": ACCEPTED,
    "LoadTerm": LOADED.terms[0],
    "TestLoad": LOADED,
    "BearingCheck": REACTING.bearings[0],
    "ReactionStage": REACTING.stages[0],
    "LeastWeight": REACTING.least_weight,
    "Reaction": REACTING,
    "Hydraulics": PRESSED,
    "ShearStrength": SHEARED,
    "ShearParts": SHEARED.expected,
    "WrapShear": WRAPPED,
    "Exercised": WRAPPED.exercised,
    "AddedStirrups": ADDED,
    "BondedStrip": STRIP,
    "WithoutStrengthening": REDUCED,
    "ReducedCheck": REDUCED.checks[0],
    "LocalStrength": LOCAL,
    "LocalCheck": LOCAL.checks[0],
    "SectionStrength": STRONG,
    "SectionProperties": STRONG.gross,
    "CrackingMoment": STRONG.cracking[0],
    "FlexuralStrength": STRONG.flexure[0],
    "SteelState": STRONG.flexure[0].steel[0],
    "SectionStiffness": STRONG.stiffness[0],
    "Deflections": BENT,
    "LevelShare": CAUGHT.levels[0],
    "CaughtForce": CAUGHT.catches[0],
    "CatchCheck": CAUGHT,
    "Quantity": 3 * kN,
    "Column": ps.Column([1, 2, 3], "m"),
    "Beam": BEAM,
    "Response": CASE,
    "Influence": BEAM.influence("moment", "3 m"),
    "Envelope": ps.Envelope([CASE]),
    "Target": TARGET,
    "Layout": ps.layout(TARGET),
    "Reference": REFERENCE,
    "Certified": FOUND,
    "Conflict": CONFLICT,
    "Searched": ps.search(REFERENCE, JACKS, "total", 2, requirements=[REACH]),
    "Design": DESIGN,
    "Judgement": JUDGEMENT,
    "Support": ps.Support("1 m"),
    "Load": ps.Load.point("1 m", "1 kN"),
}
# Valid values by the name of the argument, those of one callable before those of all.
VALUES: dict[str, Any] = {
    "text": "5 kN", "kind": "Force", "unit": "strip", "units": "SI", "ax": None, "values": [1, 2],
    "at": "3 m", "x": "2 m", "side": "right", "basis": "total", "what": "moment", "effect": "moment",
    "from_": "1 m", "to": "3 m", "length": "8 m", "span": "8 m", "left": "1 m", "right": "1 m",
    "supports": [ps.Support("0 m"), ps.Support("8 m")], "rigidity": "30000 kN·m²", "spring": "5 kN/mm",
    "rotation": "500 kN·m/rad", "fixed": False, "settlement": "1 mm", "lifts": False,
    "force": "5 kN", "moment": "5 kN·m", "w": "5 kN/m", "w_to": "3 kN/m", "kappa": "0.001 1/m",
    "bottom_less_top": "10 K", "expansion": "1e-5 1/K", "depth": "300 mm",
    "loads": [ps.Load.line("0 m", "8 m", "5 kN/m")], "hinges": [], "shear_rigidity": "90000 kN",
    "response": "moment", "pattern": [True], "q": "3 kN/m", "cases": [CASE], "name": "a",
    "terms": {"live": [ps.Load.line("0 m", "8 m", "5 kN/m")]}, "in_place": [], "region": ("3 m", "5 m"),
    "target": TARGET, "reference": REFERENCE, "candidates": JACKS, "objectives": "total",
    "requirements": [REACH], "effective_depth": "0.5 m", "bearing_length": "0.1 m", "place": "50 mm",
    "deviations": ps.Deviations(place="10 mm"), "places": ["4 m"], "judgement": JUDGEMENT,
    "spec": None, "design": DESIGN, "log": LOG, "columns": LOG_LAYOUT, "record": RECORD,
    "beam": BEAM, "edition": "ACI 437.2-13", "doubt": ps.Doubt("flexure", "2 m", "6 m"),
    "determinate": True, "at_most": 2, "spacing": "1 m", "rooms": [("2.5 m", "3.5 m"), ("4.5 m", "5.5 m")],
    "u": [0.02, 0.02], "objective": "total", "k": 2.0, "forces": ["50 kN", "50 kN"], "at_least": "1 kN",
    "capacity": "90 kN", "width": "2 m", "weight": "9.81 kN/m³", "of": ps.jack("1 m"), "step": "1 m",
    "choice": None, "series": True, "side_by_side": False, "spans": 3, "standard": "ASCE 7-16", "gamma": "9.81 kN/m³", "pieces": 8,
}  # fmt: skip
OWN: dict[str, dict[str, Any]] = {
    "Part": {"values": {"at": "3 m"}},
    "Part.get": {"key": "at", "default": None},
    "conformity": {"value": 11.6, "u": 0.25, "lower": None, "upper": 12.0},
    "decision_risks": {"mean": 10.0, "spread": 1.0, "u": 0.25, "lower": None, "upper": 12.0, "guard": 0.5},
    "guard_for_risk": {"u": 0.25, "risk": 0.05},
    "shared_ratio": {"above": 1.2, "below": 6.0, "u": 0.05},
    "effective": {"u": [3.0, 4.0], "freedom": [4.0, 5.0]},
    "side_by_side": {
        "span": "45 ft", "depth": "34 in", "clear_span": None, "cantilever": None, "unit": None, "method": None,
        "target": None,
    },
    "design": {"spec": DOCUMENT},
    "target": {"loads": LOADS},
    "compare": {"loads": LOADS},
    "Quantity.to": {"unit": "kN"},
    "Column": {"unit": "m", "kind": "Length"},
    "Column.to": {"unit": "m"},
    "Column.values": {"unit": "m"},
    "Beam.influence": {"support": None},
    "Target.term": {"name": next(iter(TARGET.terms))},
    "Certified.as_built": {"fields": None},
    "layout": {"spec": ps.LayoutSpec(carrier=ps.JackLine(at="4 m")), "fields": None},
    "jack": {"fields": {"plate": "200 mm", "capacity": "90 kN"}},
    "snow_drift": {"fields": {"ground": "2 kPa", "balanced": "1 kPa", "upper": "20 m", "lower": "10 m", "step": "2 m"}},
    "stack": {"at_least": "1 kPa", "at_most": "8 kPa"},
    "basin": {"at_least": "0.1 m", "at_most": "0.8 m"},
    "grid": {"of": ps.jack("1 m")},
    "ponding": {"at": ["0 m", "8 m"], "depth": ["50 mm", "50 mm"]},
    "search": {"reference": REFERENCE},
    "Judgement.series": {"gauge": JUDGEMENT.used[0]["gauge"], "time": "h", "force": "kN", "length": "mm"},
    "Reference": {"unit": "beam"},
    "edition": {"edition": "ACI 437.2-13"},
    "judge_record": {
        "span": "45 ft", "depth": "34 in", "clear_span": None, "cantilever": False, "method": "monotonic", "force": None, "unit": None,
    },
    "acceptance": {
        "edition": "ACI 437.2-13", "deflection": "12 mm", "residual": "3 mm", "span": "6 m", "u": "0.1 mm",
        "depth": "400 mm", "clear_span": None, "cantilever": False, "method": "monotonic", "stated": None, "unit": None,
    },
    "test_load": {
        "nominal": {"self_weight": "5 kPa", "live": "4 kPa"}, "in_place": ["self_weight"], "facts": None, "width": None,
    },
    "reaction": {
        "self_weight": "10 kN/m", "pulls": [("3 m", "60 kN")], "weights": [("2 m", "20 kN")], "seat": None, "rigidity": None,
        "left_overhang": None, "right_overhang": None, "shear_capacity": None, "sagging_capacity": None,
        "hogging_capacity": None, "uplift_capacity": None, "cracks_at": None, "conditions": None, "factor": None, "unit": None, "holds": None,
    },
    "hydraulics": {
        "rated_pressure": "70 MPa", "stroke": "150 mm", "number": 1, "area": "0.01 m²", "bore": None, "rod": None,
        "friction": "2 %", "deflection": "10 mm", "rise": None, "bars": None, "slack": None, "oil_volume": None,
        "oil_bulk_modulus": None, "accumulator": None, "pump": None, "hold": None, "gauge": None, "fittings": None,
        "rams": None, "uneven": None,
    },
    "shear_strength": {
        "code": "ACI 318-19", "strength": "30 MPa", "width": "300 mm", "depth": "500 mm", "tension_steel": "1000 mm²",
        "mean_strength": "35 MPa", "lightweight": None, "axial": None, "gross_area": None, "prestress": None, "phi": 0.75,
        "stirrups": {"area": "157 mm²", "spacing": "200 mm", "yields": "420 MPa", "minimum": True}, "gamma_c": None,
        "gamma_s": None, "design_strength": None, "lever_arm": None, "strut_slope": None, "chord_factor": None,
        "aggregate": None, "steel_yield": None, "test": "90 kN", "clear": "1.2 m", "height": None, "unit": None,
    },
    "shear_strengths": {
        "code": "EN 1992-1-1:2004", "strength": ["30 MPa", "35 MPa"], "width": "300 mm", "depth": "500 mm",
        "tension_steel": "1000 mm²", "stirrup_area": "157 mm²", "stirrup_spacing": "200 mm", "stirrup_yield": "500 MPa",
        "minimum": True,
    },
    "wrap_shear": {
        "scheme": "u_wrap", "form": "SI", "strength": "20 MPa", "mean_strength": None, "depth": "400 mm", "plies": 1,
        "thickness": "0.165 mm", "modulus": "230 GPa", "ultimate_strain": "0.0155 m/m", "width": "250 mm",
        "spacing": "300 mm", "angle": "90 deg", "webs": 1, "anchored_strain": None, "concrete": "100 kN", "stirrups": None,
        "web_width": None, "member_depth": None, "phi": 0.75, "test": "100 kN", "flexure_shear": "150 kN", "web_shear": None,
        "scatter": None,
    },
    "added_stirrups": {"area": "250 mm²", "spacing": "200 mm", "reached": "280 MPa", "depth": "450 mm"},
    "bonded_strip": {
        "area": "100 mm²", "modulus": "160 GPa", "depth": "600 mm", "debonding_strain": "0.006 m/m",
        "installed_strain": "0.0005 m/m", "crushing_strain": "0.003 m/m", "neutral_axis": "120 mm", "compression": "50 mm",
    },
    "without_strengthening": {
        "kind": "shear", "rules": ["ACI 440.2R (9.2)"], "dead": "100 kN", "live": "150 kN", "snow": None, "accidental": None,
        "sustained": None, "psi": None, "strength": "230 kN", "hot_strength": None, "unit": None,
    },
    "local_strength": {
        "kind": "bearing", "code": None, "strength": "20 MPa", "mean_strength": None, "lightweight": None, "area": "0.02 m²",
        "spread": "0.08 m²", "depth": None, "along": None, "across": None, "place": None, "perimeter": None, "moment": None,
        "steel_ratio": None, "eccentricity": None, "thickness": None, "yields": None, "mean_yield": None, "side": None,
        "width": None, "pressed": None, "detail": None, "source": None, "phi": 0.65, "gamma_c": None, "test": "300 kN",
        "catch": None,
    },
    "section_strength": {
        "section": SECTION, "code": "ACI 318-19", "cracking": "ACI 318-19, MPa", "block": None, "at": None, "length": None,
        "axial": "5 kN", "reductions": {"flexure": 0.9}, "cracked": None, "scatter": None, "before": None, "load_factor": None,
    },
    "deflections": {
        "section": SECTION, "in_place": "5 kN/m", "forces": [("3 m", "60 kN")], "cracking": "ACI 318-19, MPa",
        "steps": [0.5, 1.0], "cracked": None, "load_factor": None,
    },
    "catch": {
        "span": "10 m", "in_place": "10 kN/m", "catches": CATCH, "mode": "shear", "region": ("0 m", "1 m"), "forces": None,
        "drive": None, "spring_back": None, "depth": None, "reading": "4 mm", "reading_uncertainty": None, "clearance": None,
        "levels": None, "post_stiffness": None, "to_ground": True, "ground": None, "stub": None, "dragged_along": None, "unit": None,
    },
}  # fmt: skip


def own_list() -> list[Any]:
    inside: list[Any] = []
    inside.append(inside)
    return inside


def own_dict() -> dict[str, Any]:
    inside: dict[str, Any] = {}
    inside["value"] = inside
    return inside


def deep() -> list[Any]:
    inside: list[Any] = []
    for _ in range(3000):
        inside = [inside]
    return inside


class Broken:
    """Every question about it fails."""

    def __float__(self) -> float:
        raise RuntimeError("no")

    def __len__(self) -> int:
        raise RuntimeError("no")

    def __iter__(self) -> Iterator[Any]:
        raise RuntimeError("no")

    def __index__(self) -> int:
        raise RuntimeError("no")

    def __getattr__(self, name: str) -> Any:
        raise RuntimeError("no")

    def __repr__(self) -> str:
        raise RuntimeError("no")


class Words(str):
    """A text of a class of its own."""


MASKED = np.ma.array([1.0, 2.0], mask=[True, False])
JUNK: list[Any] = [
    None, True, False, 0, -1, 1, 1.5, -0.0, math.nan, math.inf, -math.inf, 1e308, 5e-324, 2**70, -(2**70),
    "", " ", "abc", "left", "SI", "net", "moment", "5 m", "-5 m", "0 m", "1e400 m", "1e300 m", "nan m", "inf m",
    "5 kN", "-5 kN", "5 K", "5 %", "5 m2", "5 kN/m", "\ud800", "5\ud800 m", "é" * 1000, "a" * 100_000, "5" * 5000, "\0",
    "{", '{"a": 1}', "[" * 3000, b"5 m", bytearray(b"5"), memoryview(b"5"), [], [1], [[1]], ["5 m"], ["5 m", 3], (), ("1 m", "2 m"),
    own_list(), own_dict(), deep(), [0.5] * 20_000, ["1 m"] * 3000, {}, {"value": "5 m"}, {"value": "5 m", "low": "1 m", "high": "9 m"},
    {"value": "5 m", "low": "9 m", "high": "1 m"}, {"value": "5 m", "u": "-1 m"}, {"value": "5 kN", "u": "1 kN"}, {"value": 1e308, "low": -1e308},
    {"value": math.nan, "low": math.inf}, {1: 2}, {"\ud800": 1}, {"kind": "abc"}, set(), frozenset({1}), object(), len, int, 3j,
    Decimal("1.5"), Decimal("NaN"), Fraction(1, 3), np.float64(1.5), np.float64("nan"), np.float32("inf"), np.int8(-1), np.bool_(True),
    np.array([1.0, 2.0]), np.array(5.0), np.array([["1 m"]]), np.array([1.0, np.nan]), np.array(["1 m", "2 m"]), np.array([], dtype=float),
    np.datetime64("2026-01-01"), MASKED, np.ma.masked, np.arange(3, dtype=">f8"), np.zeros((2, 2)), Broken(), Words("5 m"), Words("left"),
    3 * m, -3 * m, 0 * m, 3 * kN, -3 * kN, ps.Column([1, 2], "m"), ps.Column([1, 2], "kN"), ps.Quantity("20 °C", "Temperature"), 1e300 * m, 1e-300 * m,
    BEAM, CASE, TARGET, LOADS, DESIGN, ps.Support("1 m"), ps.Load.point("1 m", "1 kN"), JACKS, REACH, [REACH, 3], REFERENCE, Path("/"), Path("\0"),
]  # fmt: skip

UNSEEN = re.compile(r"(?<![\w.-])-?(?:nan|inf|NaN|Inf|infinity)(?![\w-])")
REFUSALS = (ps.InputError, ps.DataError, ps.SolverError, ps.StopError)


def unseen(text: str) -> str | None:
    found = UNSEEN.search(text)
    return text[max(0, found.start() - 40) : found.end() + 40] if found else None


def infinite(value: Any, depth: int = 0) -> bool:
    """Whether what was given itself holds a number that counts for nothing; its refusal may repeat it."""
    if isinstance(value, dict) and depth < 8:
        return any(infinite(v, depth + 1) for v in value.values())
    if isinstance(value, (list, tuple)) and depth < 8:
        return any(infinite(v, depth + 1) for v in value)
    try:
        return bool(re.search(r"nan|inf", str(value)[:5000], re.I))
    except (RuntimeError, ps.ProofspanError):
        return False


def well_formed(refusal: ps.ProofspanError, arguments: set[str], told_of: list[Any]) -> None:
    """Every issue has a code of the table, a sentence, a remedy, and a place in what was given."""
    assert isinstance(refusal, REFUSALS), type(refusal)
    assert refusal.issues, refusal
    text = str(refusal)
    assert len(text) < 500_000
    echo = any(infinite(value) for value in told_of)
    for issue in refusal.issues:
        assert issue["code"] in CODES, issue
        assert issue["message"] and issue["remedy"], issue
        path = issue.get("path", "")
        first = re.split(r"[.\[ ]", path)[0]
        assert not arguments or first in arguments, (path, issue, arguments)
        assert not text or echo or not unseen(" ".join(str(v) for v in issue.values())), issue
    assert echo or not unseen(text), text


def shown(result: Any, depth: int = 0, echo: bool = False) -> None:
    """Every text that a result has; names and titles repeat what was given."""
    if echo:
        return
    if isinstance(result, (list, tuple)):
        for item in result[:3]:
            shown(item, depth + 1)
        return
    if isinstance(result, dict):
        for item in result.values():
            shown(item, depth + 1)
        return
    if isinstance(result, float):
        assert math.isfinite(result)
        return
    if not type(result).__module__.startswith("proofspan"):
        return
    assert not unseen(repr(result)), repr(result)
    if hasattr(result, "to_json"):
        text = result.to_json()
        assert not unseen(text), unseen(text)
        json.loads(text, parse_constant=lambda word: pytest.fail(word))
    if isinstance(result, ps.Design):
        return
    if hasattr(result, "_repr_html_"):
        assert not unseen(result._repr_html_())
    if hasattr(result, "working") and depth == 0:
        assert not unseen(str(result.working()))


class Tally:
    """Counts, and the slowest case."""

    def __init__(self) -> None:
        self.cases = self.refused = 0
        self.slowest = (0.0, "")

    def run(self, label: str, call: Callable[[], Any], arguments: set[str], given: list[Any]) -> Any:
        """The result of a call, or its refusal, judged."""
        self.cases += 1
        if RUNNING:
            # what runs, for whoever finds that it does not end
            RUNNING.seek(0)
            RUNNING.write(f"{self.cases}: {label}\n")
            RUNNING.flush()
        start = time.process_time()
        answer: Any
        try:
            answer = call()
        except ps.ProofspanError as refusal:
            answer = refusal
        seconds = time.process_time() - start
        self.slowest = max(self.slowest, (seconds, label))
        assert seconds < (LONGEST_PICTURE if "plot" in label else LONGEST), f"{label}: {seconds:.1f} s"
        if isinstance(answer, ps.ProofspanError):
            self.refused += 1
            well_formed(answer, arguments, given)
        else:
            shown(answer, echo=any(infinite(value) for value in given))
        return answer


def clip(value: Any) -> str:
    try:
        return repr(value)[:120]
    except Exception:
        return type(value).__name__


class Door:
    """A function or method of the stub with its parameters."""

    def __init__(self, name: str, node: ast.FunctionDef, owner: str | None) -> None:
        self.name = name
        self.owner = owner
        spec = node.args
        self.static = any(getattr(d, "id", "") == "staticmethod" for d in node.decorator_list)
        names = [a.arg for a in (*spec.posonlyargs, *spec.args, *spec.kwonlyargs)]
        if owner and not self.static:
            names = names[1:]
        self.names = names
        self.open = spec.kwarg is not None

    def target(self) -> Callable[..., Any]:
        if self.owner is None:
            return getattr(ps, self.name)  # type: ignore[no-any-return]
        if self.name == self.owner:
            return getattr(ps, self.owner)  # type: ignore[no-any-return]
        holder = getattr(ps, self.owner) if self.static else OWNERS[self.owner]
        return getattr(holder, self.name.split(".")[1])  # type: ignore[no-any-return]

    def valid(self) -> dict[str, Any]:
        own = OWN.get(self.name, {})
        given = {name: own.get(name, VALUES.get(name, KeyError)) for name in self.names}
        missing = [name for name, value in given.items() if value is KeyError]
        assert not missing, f"{self.name}: give {missing} a value in VALUES or OWN"
        given = {name: value for name, value in given.items() if value is not None}
        return {**given, **(own.get("fields") or {})}


def callables() -> list[Door]:
    """Every public function, constructor and method of the stub."""
    stub = ast.parse((ROOT / "python/src/proofspan/_core.pyi").read_text(encoding="utf-8"))
    documents = set(EXAMPLES)
    found: dict[str, Door] = {}
    for node in stub.body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            found[node.name] = Door(node.name, node, None)
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_") and node.name not in documents:
            for item in node.body:
                if not isinstance(item, ast.FunctionDef):
                    continue
                if any(getattr(d, "id", "") == "property" for d in item.decorator_list):
                    continue
                name = node.name if item.name == "__new__" else f"{node.name}.{item.name}"
                if item.name.startswith("_") and item.name != "__new__":
                    continue
                found.setdefault(name, Door(name, item, node.name))
    return list(found.values())


CALLABLES = callables()


def mutated(rng: random.Random, value: Any, depth: int = 0) -> Any:
    """The value, something else, or something else inside it."""
    if depth < 6 and isinstance(value, dict) and value and rng.random() < 0.8:
        key = rng.choice(list(value))
        act = rng.random()
        if act < 0.1:
            return {k: v for k, v in value.items() if k != key}
        if act < 0.2:
            return {**value, str(key) + rng.choice(["_", "s", "\ud800", ""]): rng.choice(JUNK)}
        return {**value, key: mutated(rng, value[key], depth + 1)}
    if depth < 6 and isinstance(value, (list, tuple)) and value and rng.random() < 0.7:
        at = rng.randrange(len(value))
        items = list(value)
        act = rng.random()
        if act < 0.15:
            del items[at]
        elif act < 0.3:
            items = (items * rng.choice([2, 50]))[:100]
        else:
            items[at] = mutated(rng, items[at], depth + 1)
        return type(value)(items)
    if isinstance(value, str) and rng.random() < 0.5:
        number = re.match(r"-?[\d.]+", value)
        if number:
            sign = rng.choice(["-", "0", "1e9", "1e-9", "1e308", "nan", "inf", "0.5", "", "1000"])
            return sign + value[number.end() :]
        return value[: rng.randrange(len(value) + 1)] + rng.choice(["", "x", "S", "\ud800", " "])
    if isinstance(value, (int, float)) and rng.random() < 0.4:
        return rng.choice([-value, 0, value * 1e9, math.nan, math.inf, str(value), True])
    if depth and rng.random() < 0.2:
        return {"value": value, "low": rng.choice(JUNK), "high": rng.choice(JUNK)}
    return rng.choice(JUNK)


def paths_of(call: Door, given: dict[str, Any]) -> set[str]:
    """Where a problem of a call may stand: at an argument, or in a document that is the whole of it."""
    names = set(given) | set(call.names) | {""}
    names |= {name.rstrip("_") for name in names}
    # the object itself that a call makes or asks
    names |= {(call.owner or "").lower()}
    if "design" in call.names:
        # the document of the design is held against the log too
        names |= set(ps.TestSpec.fields())
    if "columns" in call.names:
        names |= set(ps.LogSpec.fields())
    if call.name == "design":
        return set()  # the document is all there is
    if call.open:
        for of in (ps.Candidate, ps.LayoutSpec, ps.Deviations):
            names |= set(of.fields()) if call.name in ("jack", "layout", "Certified.as_built") else set()
    if call.name == "snow_drift":
        names |= {"winter", "importance", "lower"}
    return names


@pytest.fixture(autouse=True)
def watched() -> Iterator[None]:
    """A hang ends with the place where it hangs."""
    faulthandler.dump_traceback_later(SECONDS + 240, exit=True)
    yield
    faulthandler.cancel_dump_traceback_later()



def no_pictures() -> None:
    """Closes what was drawn."""
    import matplotlib

    matplotlib.use("agg")
    import matplotlib.pyplot as plt

    plt.close("all")


def test_every_class_has_an_example() -> None:
    documents = {name for name in dir(ps) if hasattr(getattr(ps, name), "fields")}
    assert documents == set(EXAMPLES)
    for name, example in EXAMPLES.items():
        assert getattr(ps, name)(**example) == getattr(ps, name).from_json(json.dumps(example))
    for call in CALLABLES:
        shown(call.target()(**call.valid()))


def test_one_wrong_argument_of_every_callable() -> None:
    """Junk as every argument of every function and method, all of it in the long run."""
    tally = Tally()
    problems: dict[str, str] = {}
    for n, call in enumerate(CALLABLES):
        valid = call.valid()
        rng = random.Random(SEED * 1000 + n)
        dear = call.name.split(".")[-1] in ("plot", "plot_predicted", "search", "refine", "as_built", "compare", "judge", "html", "markdown")
        for name in valid:
            for value in JUNK if SOAK else rng.sample(JUNK, 6 if dear else 25):
                given = {**valid, name: value}
                label = f"{call.name}({name}={clip(value)})"
                try:
                    tally.run(label, lambda given=given: call.target()(**given), paths_of(call, given), [value])  # type: ignore[misc]
                except Exception as error:
                    problems.setdefault(f"{call.name}({name}) {type(error).__name__}", f"{label}: {error!s:.300}")
        no_pictures()
    print(f"{tally.cases} calls, {tally.refused} refused, slowest {tally.slowest[0]:.3f} s: {tally.slowest[1]}")
    assert not problems, f"{len(problems)} problems\n" + "\n".join(problems.values())


def test_every_document_with_one_wrong_field() -> None:
    """Junk as every field of every document, all of it in the long run."""
    tally = Tally()
    problems: dict[str, str] = {}
    rng = random.Random(SEED)
    for name, example in EXAMPLES.items():
        made = getattr(ps, name)
        for field in made.fields():
            for value in JUNK if SOAK else rng.sample(JUNK, 25):
                given = {**example, field: value}
                label = f"{name}({field}={clip(value)})"
                for door in (lambda given=given: made(**given), lambda field=field, value=value: made(**example).replace(**{field: value})):
                    try:
                        tally.run(label, door, set(given) | set(made.fields()) | {""}, [value])
                    except Exception as error:
                        problems.setdefault(f"{name}({field}) {type(error).__name__}", f"{label}: {error!s:.300}")
    print(f"{tally.cases} documents, {tally.refused} refused, slowest {tally.slowest[0]:.3f} s: {tally.slowest[1]}")
    assert not problems, f"{len(problems)} problems\n" + "\n".join(problems.values())


def test_mutations_of_the_shipped_scenarios() -> None:
    """Documents, logs, records and arguments with several faults, for as long as there is time."""
    rng = random.Random(SEED)
    tally = Tally()
    end = time.monotonic() + SECONDS
    while time.monotonic() < end:
        seed = rng.randrange(2**63)
        one = random.Random(seed)
        call = one.choice(CALLABLES)
        if one.random() < 0.3:
            name = one.choice(list(EXAMPLES))
            made = getattr(ps, name)
            given = mutated(one, EXAMPLES[name])
            if not isinstance(given, dict) or not all(isinstance(k, str) for k in given):
                continue
            run, arguments = (lambda: made(**given)), set(given) | set(made.fields()) | {""}
        else:
            name = call.name
            given = call.valid()
            if call.name == "design":
                given = {"spec": one.choice([DOCUMENT, OTHER])}
            for _ in range(one.choice([1, 1, 2, 3])):
                if given:
                    key = one.choice(list(given))
                    given[key] = mutated(one, given[key])
            run, arguments = (lambda: call.target()(**given)), paths_of(call, given)
        label = f"{name} of seed {seed}: {clip(given)}"
        try:
            tally.run(label, run, {a.rstrip("_") for a in arguments} | arguments, [given])
        except Exception as error:
            raise AssertionError(label) from error
        no_pictures()
    print(f"{tally.cases} cases, {tally.refused} refused, seed {SEED}, slowest {tally.slowest[0]:.3f} s: {tally.slowest[1]}")


# What JSON can say wrongly: kinds, signs, sizes, ranges, words.
WRONG: list[Any] = [
    True, 0, -1, 1.5, 1e300, "", "abc", "0 m", "-1 m", "1e300 m", "1e400 m", "nan m", "-5 kN", "5 K", "5", [], ["abc"], [-1], {}, {"abc": 1},
    {"value": "1 m", "low": "-1 m", "high": "2 m"}, {"value": "1 m", "low": "2 m", "high": "3 m"}, {"value": "1 m", "u": "-1 m"},
    {"value": "1 kN", "low": "-1 kN", "high": "2 kN"}, {"value": 0.5, "low": -1, "high": 2}, {"value": -1}, {"value": 1, "u": "abc"},
    {"value": "5 kip", "origin": "abc"}, {"value": "5 kip", "note": 3}, [[1]], [{"abc": 1}],
]  # fmt: skip

# Each part inside the part that holds it: the class, and the place of the child in its example.
INSIDE: dict[str, tuple[str, tuple[str | int, ...]]] = {
    "Scope": ("TestSpec", ("scope",)),
    "Member": ("Scope", ("member",)),
    "Doubt": ("Scope", ("doubt",)),
    "Sharing": ("Scope", ("sharing",)),
    "Finding": ("Scope", ("findings", 0)),
    "BeamSpec": ("TestSpec", ("beam",)),
    "Rigidity": ("BeamSpec", ("soft",)),
    "SearchSpec": ("LayoutSpec", ("search",)),
    "Loads": ("TestSpec", ("loads",)),
    "Action": ("Loads", ("actions", 0)),
    "Taper": ("Action", ("taper",)),
    "PointAction": ("Action", ("point",)),
    "EditionChoice": ("TestSpec", ("edition",)),
    "Facts": ("EditionChoice", ("facts",)),
    "LayoutSpec": ("TestSpec", ("layout",)),
    "JackLine": ("LayoutSpec", ("carrier",)),
    "Spreader": ("LayoutSpec", ("carrier",)),
    "Pad": ("LayoutSpec", ("carrier",)),
    "Bags": ("LayoutSpec", ("carrier",)),
    "Water": ("LayoutSpec", ("carrier",)),
    "Wheels": ("LayoutSpec", ("carrier",)),
    "OvershootLimit": ("LayoutSpec", ("limits", 0)),
    "RigSpec": ("TestSpec", ("rig",)),
    "ReactionMember": ("RigSpec", ("reaction",)),
    "Counterweight": ("RigSpec", ("counterweights", 0)),
    "Jacks": ("RigSpec", ("jacks",)),
    "Bars": ("RigSpec", ("bars",)),
    "ShoringSpec": ("TestSpec", ("shoring",)),
    "Catch": ("ShoringSpec", ("catch", 0)),
    "Stub": ("ShoringSpec", ("stub",)),
    "Level": ("ShoringSpec", ("levels", 0)),
    "ProtocolSpec": ("TestSpec", ("protocol",)),
    "Gauge": ("ProtocolSpec", ("gauges", 0)),
    "SiteRecords": ("TestSpec", ("records",)),
}
KINDS = {"JackLine": "jack_line", "Spreader": "spreader", "Pad": "pad", "Bags": "bags", "Water": "water", "Wheels": "wheels"}


def told(call: Callable[[], Any], under: str = "") -> set[tuple[str, str]]:
    """Code and place of every problem at or below a place, which is left out; nothing where none."""
    try:
        call()
    except ps.ProofspanError as refusal:
        all_of = [(i["code"], i.get("path", "")) for i in refusal.issues]
        return {(code, path[len(under) :].lstrip(".")) for code, path in all_of if path.startswith(under)}
    return set()


def test_the_same_code_at_every_door() -> None:
    """Every field of every document, wrong in the same way by keyword, in JSON, by `replace`, and as a dict
    or as JSON inside the part that holds it: the same codes at the same field."""
    cases = refused = 0
    problems: dict[str, str] = {}
    rng = random.Random(SEED)
    for name, example in EXAMPLES.items():
        made = getattr(ps, name)
        for field in made.fields():
            for value in WRONG if SOAK else rng.sample(WRONG, 12):
                given = {**example, field: value}
                want = told(lambda: made.from_json(json.dumps(given)))  # noqa: B023
                doors = {"keyword": told(lambda: made(**given)), "replace": told(lambda: made(**example).replace(**{field: value}))}  # noqa: B023
                if name in INSIDE:
                    outer, place = INSIDE[name]
                    whole = json.loads(json.dumps(EXAMPLES[outer]))
                    child = {"kind": KINDS[name], **given} if name in KINDS else given
                    if name in ("Taper", "PointAction"):
                        whole.pop("area")
                    holder = whole
                    for key in place[:-1]:
                        holder = holder[key]
                    holder[place[-1]] = child
                    under = "".join(f"[{k}]" if isinstance(k, int) else f".{k}" for k in place).lstrip(".")
                    parent = getattr(ps, outer)
                    if want:
                        doors["inside"] = told(lambda: parent(**whole), under)  # noqa: B023
                        doors["inside JSON"] = told(lambda: parent.from_json(json.dumps(whole)), under)  # noqa: B023
                cases += len(doors)
                refused += bool(want)
                for door, found in doors.items():
                    # the part that holds it may know more, but never less
                    if not want <= found if door.startswith("inside") else found != want:
                        problems.setdefault(f"{name}.{field} {door}", f"{name}.{field} = {value!r}: JSON {sorted(want)}, {door} {sorted(found)}")
    print(f"{cases} doors, {refused} refused values")
    assert not problems, f"{len(problems)} problems\n" + "\n".join(problems.values())
