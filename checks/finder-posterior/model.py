"""The stated model of a floating array and its readings, written for numpy: physics, priors, and the drawing of a truth.

Only the assumptions are shared with the engine (SOURCE.md lists them); no code is.
"""

import numpy as np

# Figures of the engine's priors, as it states them to its users.
FAULT_OHMS = (1.0, 2e6)
LEAK_OHMS = {False: (10e6, 2e9), True: (1.5e6, 2e9)}
WETNESS_LEAST_OHMS = 2e5
SPREAD = {False: 0.03, True: 0.35}
LOPSIDED = {False: 0.004, True: 0.03}
UNEVEN = 0.03
WETNESS_LOPSIDED = 0.15
HYPOTHESES = {"none": 0.22, "wetness": {False: 0.01, True: 0.1}, "two": 0.04}
SHUNT_TOLERANCE = 0.005
GOES_WITH_HOME_RUN = 0.3


def places_of(case):
    """Every place with its weight: (string index or -1, node, weight, share where no module matters)."""
    weights = case["priors"]
    places = []
    for s, string in enumerate(case["strings"]):
        n, parts = string["modules"], string["substrings"]
        for k in range(n * parts + 1):
            node = k / parts
            if k in (0, n * parts):
                weight = weights["homeRun"]
            elif k % parts == 0:
                weight = weights["connector"]
            else:
                weight = weights["inModule"] / (parts - 1)
            places.append({"string": s, "id": string["id"], "at": node, "weight": weight})
    for circuit in case["circuits"]:
        modules = case["strings"][0]["modules"]
        for share in (0, 1):
            places.append(
                {"string": -1, "id": circuit["id"], "at": share * modules, "share": share, "weight": weights["combiner"]}
            )
    return places


def opened_nodes(case, s):
    return {node for c in case["configurations"] for p in c["parts"] if p["string"] == s and p["cut"] for node in (p["a"], p["b"])}


def sides_of(case, place):
    """Where the damage goes if its junction is opened, with the probability of each."""
    if place["string"] < 0 or place["at"] not in opened_nodes(case, place["string"]):
        return [("stays", 1.0)]
    modules = case["strings"][place["string"]]["modules"]
    if place["at"] in (0, modules):
        return [("stays", 1 - GOES_WITH_HOME_RUN), ("home-run", GOES_WITH_HOME_RUN)]
    return [("below", 0.5), ("above", 0.5)]


def part_with(configuration, place, side):
    """The stretch of a configuration that holds the damage, or None."""
    if place["string"] < 0:
        return "bus" if configuration["on"] == place["id"] else None
    for part in configuration["parts"]:
        if part["string"] != place["string"] or not part["a"] <= place["at"] <= part["b"]:
            continue
        if not part["cut"]:
            return part
        if side == "home-run":
            return None
        if place["at"] == part["a"] and side == "below":
            return None
        if place["at"] == part["b"] and side == "above":
            return None
        return part
    return None


def share_in(part, place, shape):
    """Share of the stretch's voltage at the place; `shape` holds the cumulated module voltages, one row a sample."""
    if part == "bus":
        return np.full(shape.shape[0], float(place["share"]))

    def height(node):
        k = min(int(np.floor(node)), shape.shape[1] - 2)
        return shape[:, k] + (node - k) * (shape[:, k + 1] - shape[:, k])

    low, high = height(part["a"]), height(part["b"])
    return (height(place["at"]) - low) / (high - low)


def module_count(configuration):
    return sum(part["b"] - part["a"] for part in configuration["parts"])


def predicted(reading, leak, centroid, volts, meter_siemens):
    """What a reading shows without error; `leak` in siemens, `centroid` as a share of `volts`."""
    if reading["kind"] == "insulation":
        helped = {"shorted": 0.0, "-": centroid * volts, "+": -(1 - centroid) * volts}[reading["from"]]
        return reading["testVoltage"] / (leak * (reading["testVoltage"] + helped))
    if reading["to"] != "earth":
        return volts + 0 * leak
    shunt = 1 / reading["shunt"] if "shunt" in reading else 0.0
    share = centroid if reading["from"] == "-" else 1 - centroid
    return share * volts * leak / (leak + meter_siemens + shunt)


def deviation(case, reading, value, leak, meter_siemens):
    """Standard deviation of what is shown about what is true."""
    if reading["kind"] == "insulation":
        return np.hypot(value * case["tester"]["reading"], case["tester"]["floor"])
    meter = case["meter"]
    relative = np.hypot(meter["reading"], case["drift"])
    sd = np.hypot(value * relative, meter["floor"])
    if "shunt" in reading:
        shunt = 1 / reading["shunt"]
        sd = np.hypot(sd, value * SHUNT_TOLERANCE * shunt / (leak + meter_siemens + shunt))
    return sd


def simulate(case, truth, rng):
    """Takes every reading of the case on a drawn truth; fills in the values as an instrument would show them."""
    meter_siemens = 1 / (case["meter"]["input"] * (1 + case["meter"]["tolerance"] * rng.standard_normal()))
    shunt_ratio = 1 + SHUNT_TOLERANCE * rng.standard_normal()
    shapes = [
        np.concatenate([[0], np.cumsum(1 + case["mismatch"] * rng.standard_normal(s["modules"]))])[None, :]
        for s in case["strings"]
    ]
    for configuration in case["configurations"]:
        leaks = []
        for part in configuration["parts"]:
            leaks.append(((part["b"] - part["a"]) / truth["leak"], 0.5))
        for fault in truth["faults"]:
            part = part_with(configuration, fault, fault["side"])
            if part is not None:
                shape = shapes[max(fault["string"], 0)]
                leaks.append((1 / fault["ohms"], float(share_in(part, fault, shape)[0])))
        total = sum(g for g, _ in leaks)
        centroid = sum(g * share for g, share in leaks) / total
        first = configuration["parts"][0]
        shape = shapes[first["string"]][0]
        volts = 41.0 * (shape[first["b"]] - shape[first["a"]])
        for reading in configuration["readings"]:
            light = 1 + case["drift"] * rng.standard_normal()
            used = dict(reading)
            if "shunt" in reading:
                used["shunt"] = reading["shunt"] * shunt_ratio
            true = predicted(used, total, centroid, volts * light, meter_siemens)
            kind = "tester" if reading["kind"] == "insulation" else "meter"
            gain = 1 + case[kind]["reading"] * rng.standard_normal()
            shown = abs(float(true * gain + case[kind]["floor"] * rng.standard_normal()))
            reading["value"] = float(f"{shown:.6g}")
