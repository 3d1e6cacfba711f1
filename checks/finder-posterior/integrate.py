"""The posterior by importance sampling: every unknown is drawn, none is integrated by a formula.

Drawn for each place: healthy leakage, fault conductance, the voltage of every connection, the meter's input, every
module's voltage, and per connection how unevenly and how unlike the rest its healthy leakage is. Only the proposals
for the two leaks and the voltages follow the readings; weights undo that exactly.
"""

import numpy as np
from scipy.special import logsumexp, ndtri
from scipy.stats import qmc

import model

GRID = np.linspace(np.log(1e-11), np.log(3), 24_001)
TEMPER = 0.6
DEFENSIVE = 0.25


def profile(case, configuration):
    """Log-likelihood of the total leak on GRID, at its best centroid and voltage and a meter as marked: for proposals only."""
    leak = np.exp(GRID)
    meter = 1 / case["meter"]["input"]
    normal = np.zeros((len(GRID), 2, 2))
    right = np.zeros((len(GRID), 2))
    square = np.zeros(len(GRID))
    for reading in configuration["readings"]:
        value = reading["value"]
        shunt = 1 / reading["shunt"] if "shunt" in reading else 0.0
        gain = leak / (leak + meter + shunt)
        if reading["kind"] == "insulation":
            # 1/R = G + G·(±)/V_t · (u or V − u), error even in ohms.
            y = 1 / value - leak
            row = {"shorted": (0, 0), "-": (1, 0), "+": (1, -1)}[reading["from"]]
            rows = np.stack([leak / reading["testVoltage"] * r for r in row], axis=1)
            sd = model.deviation(case, reading, value, leak, meter) * np.abs(leak / value)
        elif reading["to"] != "earth":
            y, rows = np.full(len(GRID), value), np.tile([0.0, 1.0], (len(GRID), 1))
            sd = np.full(len(GRID), model.deviation(case, reading, value, leak, meter))
        else:
            y = np.full(len(GRID), value)
            rows = np.stack([gain, 0 * gain], 1) if reading["from"] == "-" else np.stack([-gain, gain], 1)
            sd = model.deviation(case, reading, value, leak, meter) + 0 * leak
        w = 1 / sd**2
        normal += w[:, None, None] * rows[:, :, None] * rows[:, None, :]
        right += (w * y)[:, None] * rows
        square += w * y * y
    normal += np.eye(2) * 1e-9 * np.trace(normal, axis1=1, axis2=2)[:, None, None]
    best = np.linalg.solve(normal, right[:, :, None])[:, :, 0]
    return -0.5 * (square - np.sum(best * right, axis=1))


class GridProposal:
    """Draws ln x from a density given by its logarithm on GRID, mixed with a uniform one on [low, high]."""

    def __init__(self, log_density, low, high, defensive=DEFENSIVE):
        inside = (GRID >= low) & (GRID <= high)
        tempered = TEMPER * (log_density - np.max(log_density[inside]))
        density = np.exp(np.where(inside, tempered, -np.inf))
        step = GRID[1] - GRID[0]
        self.low, self.high, self.defensive, self.step = low, high, defensive, step
        self.density = density / (density.sum() * step)
        self.cumulative = np.cumsum(self.density) * step

    def draw(self, uniform, choice):
        index = np.minimum(np.searchsorted(self.cumulative, uniform), len(GRID) - 1)
        below = np.where(index > 0, self.cumulative[index - 1], 0)
        within = (uniform - below) / np.maximum(self.density[index] * self.step, 1e-300)
        needle = GRID[index] + (np.clip(within, 0, 1) - 0.5) * self.step
        return np.where(choice < self.defensive, self.low + uniform * (self.high - self.low), needle)

    def needle_density(self, ln):
        index = np.clip(np.round((ln - GRID[0]) / self.step).astype(int), 0, len(GRID) - 1)
        return self.density[index]

    def log_density(self, ln):
        flat = ((ln >= self.low) & (ln <= self.high)) / (self.high - self.low)
        return np.log(np.maximum(self.defensive * flat + (1 - self.defensive) * self.needle_density(ln), 1e-300))


def smeared(log_density, sd):
    """A profile widened by the unlikeness of healthy leakage, on GRID."""
    if sd == 0:
        return log_density
    step = GRID[1] - GRID[0]
    reach = int(4 * sd / step)
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) * step / sd) ** 2)
    top = log_density.max()
    return top + np.log(np.convolve(np.exp(log_density - top), kernel / kernel.sum(), mode="same") + 1e-300)


class Reference:
    """Evidence of every hypothesis of one case, from `count` quasi-random samples with one scrambling."""

    def __init__(self, case, count, seed):
        self.case, self.count = case, count
        self.configurations = case["configurations"]
        self.counts = [model.module_count(c) for c in self.configurations]
        self.profiles = [profile(case, c) for c in self.configurations]
        several = len(self.configurations) > 1 or len(case["strings"]) > 1
        self.spread = model.SPREAD[case["wet"]] if several else 0.0
        modules = max(s["modules"] for s in case["strings"])
        cs = len(self.configurations)
        cube = qmc.Sobol(5 + 3 * cs + modules, scramble=True, seed=seed).random(count)
        cube = np.clip(cube, 1e-12, 1 - 1e-12)
        self.leak_uniform, self.leak_choice, self.fault_uniform, self.fault_choice = cube[:, :4].T
        normal = ndtri(cube[:, 4:])
        meter = case["meter"]
        self.meter = 1 / (meter["input"] * (1 + meter["tolerance"] * normal[:, 0]))
        self.volt_z, self.tilt_z, self.spread_z = (normal[:, 1 + i * cs : 1 + (i + 1) * cs] for i in range(3))
        heights = np.cumsum(1 + case["mismatch"] * normal[:, 1 + 3 * cs :], axis=1)
        self.shape = np.concatenate([np.zeros((count, 1)), heights], axis=1)
        self.volts, self.ln_volts_weight = zip(*(self.voltage(i) for i in range(cs)))

    def voltage(self, i):
        """Voltage of a connection drawn about its own + to − reading; flat before it."""
        reading = next(r for r in self.configurations[i]["readings"] if r["kind"] == "voltage" and r["to"] != "earth")
        sd = 1.2 * model.deviation(self.case, reading, reading["value"], 0, 0)
        z = self.volt_z[:, i]
        return reading["value"] + sd * z, 0.5 * z * z + np.log(sd)

    def healthy(self, contained, limits):
        """Healthy conductance of a module and its log weight; connections without the fault guide the draw."""
        low, high = -np.log(limits[1]), -np.log(limits[0])
        guide = np.zeros(len(GRID))
        for i, p in enumerate(self.profiles):
            if i not in contained:
                guide += np.interp(GRID + np.log(self.counts[i]), GRID, smeared(p, self.spread), left=-1e9, right=-1e9)
        proposal = GridProposal(guide, low, high)
        ln = proposal.draw(self.leak_uniform, self.leak_choice)
        inside = (ln >= low) & (ln <= high)
        return np.exp(ln), np.where(inside, -np.log(high - low) - proposal.log_density(ln), -np.inf)

    def part_leak(self, g, i):
        return g * self.counts[i] * np.exp(self.spread * self.spread_z[:, i])

    def fault(self, g, contained):
        """Conductance of the fault and its log weight, drawn about the sharpest connection that holds it."""
        low, high = -np.log(model.FAULT_OHMS[1]), -np.log(model.FAULT_OHMS[0])
        if not contained:
            return np.exp(low + self.fault_uniform * (high - low)), np.zeros(self.count)
        i = min(contained, key=lambda c: np.sum(self.profiles[c] > self.profiles[c].max() - 2))
        needle = GridProposal(self.profiles[i], GRID[0], GRID[-1], 0.0)
        rest = self.part_leak(g, i)
        total = np.exp(needle.draw(self.fault_uniform, np.ones(self.count)))
        flat = np.exp(low + self.fault_uniform * (high - low))
        fault = np.where(self.fault_choice < DEFENSIVE, flat, total - rest)
        ln = np.log(np.maximum(fault, 1e-300))
        inside = (ln >= low) & (ln <= high)
        about = needle.needle_density(np.log(np.maximum(fault, 1e-300) + rest)) * fault / (fault + rest)
        density = DEFENSIVE / (high - low) + (1 - DEFENSIVE) * about
        return np.maximum(fault, 1e-300), np.where(inside, -np.log(high - low) - np.log(np.maximum(density, 1e-300)), -np.inf)

    def log_likelihood(self, g, leaks_in, lopsided):
        """`leaks_in(i)` gives (conductance, share) of the faults that connection i holds."""
        ln = np.zeros(self.count)
        for i, configuration in enumerate(self.configurations):
            own = self.part_leak(g, i)
            total, moment = own.copy(), own * (0.5 + lopsided * self.tilt_z[:, i])
            for siemens, share in leaks_in(i):
                total += siemens
                moment += siemens * share
            centroid = moment / total
            ln += self.ln_volts_weight[i]
            for reading in configuration["readings"]:
                value = model.predicted(reading, total, centroid, self.volts[i], self.meter)
                sd = model.deviation(self.case, reading, value, total, self.meter)
                ln += -0.5 * ((reading["value"] - value) / sd) ** 2 - np.log(sd)
        return ln

    def mean(self, ln):
        return logsumexp(ln) - np.log(self.count)

    def one_fault(self, place):
        """ln evidence of one fault at a place, its side of an opened junction averaged."""
        terms = []
        for side, probability in model.sides_of(self.case, place):
            parts = [model.part_with(c, place, side) for c in self.configurations]
            contained = [i for i, part in enumerate(parts) if part is not None]
            g, ln_g = self.healthy(contained, model.LEAK_OHMS[self.case["wet"]])
            fault, ln_fault = self.fault(g, contained)
            shares = {i: model.share_in(parts[i], place, self.shape) for i in contained}
            held = lambda i: [(fault, shares[i])] if i in shares else []
            ln = ln_g + ln_fault + self.log_likelihood(g, held, model.LOPSIDED[self.case["wet"]])
            terms.append(np.log(probability) + self.mean(ln))
        return logsumexp(terms)

    def no_fault(self, limits, lopsided):
        g, ln_g = self.healthy([], limits)
        return self.mean(ln_g + self.log_likelihood(g, lambda _: [], lopsided))
