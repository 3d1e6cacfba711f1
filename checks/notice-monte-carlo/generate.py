#!/usr/bin/python3
"""Time to notice by Monte Carlo, minute by minute: an independent second opinion for the engine.

Shares no code with the engine. Zones by Python's zoneinfo, sunrise by PyEphem (horizon -0:34, upper limb, no
pressure), random numbers by numpy. Run:  /usr/bin/python3 generate.py  (writes cases.json; some minutes)
"""

import json
import platform
import sys
from datetime import date, datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

import ephem
import numpy as np

from sites import SITES

SEED = 20260117
FAULTS = 500_000
DAY = 1440
YEAR = 365
FIRST_DAYS = 3
AFTER_DAYS = 33
LAGS_HOURS = [0.5, 1, 2, 4, 8, 12, 18, 24, 36, 48, 72, 120, 168, 336, 672]


def utc_minute(moment):
    return int(moment.timestamp() // 60)


def midnight(day, zone):
    return utc_minute(datetime(day.year, day.month, day.day, tzinfo=zone))


class Calendar:
    """Minutes of the year and a margin, counted from `origin` (UTC)."""

    def __init__(self, model):
        self.first = date.fromisoformat(model["yearFrom"])
        start = datetime.combine(self.first - timedelta(days=FIRST_DAYS), datetime.min.time(), timezone.utc)
        self.origin = utc_minute(start)
        self.minutes = (YEAR + FIRST_DAYS + AFTER_DAYS) * DAY

    def local_fields(self, zone):
        """Minute of the local week and ordinal of the local day, for every minute."""
        week = np.empty(self.minutes, dtype=np.int32)
        day = np.empty(self.minutes, dtype=np.int32)
        step = 15  # offsets change on quarter hours
        for m in range(0, self.minutes, step):
            local = datetime.fromtimestamp((self.origin + m) * 60, zone)
            first = local.weekday() * DAY + local.hour * 60 + local.minute
            week[m : m + step] = (first + np.arange(step)) % (7 * DAY)
            day[m : m + step] = local.toordinal()
        return week, day


def active_minutes(week, hours):
    active = np.zeros(len(week), dtype=bool)
    for span in hours:
        active |= (week >= span["fromMinute"]) & (week < span["toMinute"])
    return active


class Watcher:
    """Notices at a rate while active: after an exponential amount of active time."""

    def __init__(self, active, per_minute):
        self.cumulated = np.concatenate([[0.0], np.cumsum(active)]) * per_minute

    def hazard_at(self, at):
        whole = np.clip(np.floor(at).astype(np.int64), 0, len(self.cumulated) - 2)
        part = np.clip(at - whole, 0, 1)
        return self.cumulated[whole] * (1 - part) + self.cumulated[whole + 1] * part

    def notices(self, start, rng):
        """Instant of noticing for each start (inf where there is none in the calendar)."""
        out = np.full(len(start), np.inf)
        live = start < len(self.cumulated) - 1
        goal = self.hazard_at(start[live]) + rng.exponential(size=int(live.sum()))
        index = np.searchsorted(self.cumulated, goal, side="left")
        found = index < len(self.cumulated)
        top = np.minimum(index, len(self.cumulated) - 1)
        slope = self.cumulated[top] - self.cumulated[top - 1]
        instant = top - 1 + (goal - self.cumulated[top - 1]) / np.where(slope > 0, slope, 1)
        out[live] = np.where(found, instant, np.inf)
        return out


def sun_of(day, model):
    """Sunrise and sunset of the local day in UTC minutes, or 'day' or 'night' beyond the circles."""
    place = ephem.Observer()
    place.lat, place.lon = str(model["latitudeDeg"]), str(model["longitudeDeg"])
    place.pressure, place.horizon = 0, "-0:34"
    noon = datetime(day.year, day.month, day.day, 12) - timedelta(minutes=4 * model["longitudeDeg"])
    place.date = noon
    sun = ephem.Sun()
    try:
        rise, fall = place.previous_rising(sun), place.next_setting(sun)
    except ephem.AlwaysUpError:
        return "day"
    except ephem.NeverUpError:
        return "night"
    minute = lambda e: e.datetime().replace(tzinfo=timezone.utc).timestamp() / 60
    rise, fall, middle = minute(rise), minute(fall), noon.replace(tzinfo=timezone.utc).timestamp() / 60
    if middle - rise > DAY or fall - middle > DAY:
        place.date = noon
        sun.compute(place)
        return "day" if sun.alt > ephem.degrees("-0:50") else "night"
    return rise, fall


def days_of(model, calendar):
    zone = ZoneInfo(model["timezone"])
    delay = model["detector"]["startAfterSunriseMin"]
    days = []
    for n in range(-FIRST_DAYS, YEAR + AFTER_DAYS):
        day = calendar.first + timedelta(days=n)
        begin = midnight(day, zone) - calendar.origin
        end = midnight(day + timedelta(days=1), zone) - calendar.origin
        sun = sun_of(day, model)
        if sun == "night":
            days.append((begin, end, None, None))
        elif sun == "day":
            days.append((begin, end, (begin, end), None))
        else:
            rise, fall = sun[0] - calendar.origin, sun[1] - calendar.origin
            days.append((begin, end, (rise, fall), min(rise + delay, fall)))
    return days


def onsets(model, days, rng):
    mix = model["onset"]
    chosen = rng.integers(0, YEAR, FAULTS)
    pick, place = rng.random(FAULTS), rng.random(FAULTS)
    out = np.empty(FAULTS)
    for n in range(YEAR):
        begin, end, light, start = days[n + FIRST_DAYS]
        here = np.flatnonzero(chosen == n)
        dawn = mix["dawnWetShare"] if start is not None else 0
        lit = mix["daylightShare"] if light is not None else 0
        at = begin + place[here] * (end - begin)
        if light is not None:
            wet = pick[here] < dawn
            width = mix["dewBeforeSunriseMin"] + mix["dewAfterSunriseMin"]
            at = np.where(wet, light[0] - mix["dewBeforeSunriseMin"] + place[here] * width, at)
            sunny = (pick[here] >= dawn) & (pick[here] < dawn + lit)
            at = np.where(sunny, light[0] + place[here] * (light[1] - light[0]), at)
        out[here] = at
    return out


def detected(model, days, born, rng):
    detector = model["detector"]
    starts = np.array([start for *_, start in days if start is not None])
    spans = sorted((light[0] if start is None else start, light[1]) for _, _, light, start in days if light is not None)
    begins, ends = np.array([a for a, _ in spans]), np.array([b for _, b in spans])

    def following(instants, after):
        index = np.searchsorted(instants, after, side="left")
        return np.where(index < len(instants), instants[np.minimum(index, len(instants) - 1)], np.inf)

    last = np.searchsorted(begins, born, side="right") - 1
    running = (last >= 0) & (born < ends[np.maximum(last, 0)])
    seen = rng.random(FAULTS) < (1 if detector["continuous"] else detector["residualShare"])
    at_start = following(starts, born) if detector["atStart"] else np.full(FAULTS, np.inf)
    return np.where(seen, np.where(running, born, following(begins, born)), at_start)


def deliveries(model, rng):
    """For each link: minutes until it is up again, 0 when up, inf when it never is."""
    out = {}
    for link in model["links"]:
        down = rng.random(FAULTS) >= link["availability"]
        rest = rng.exponential(link["meanOutageMin"], FAULTS)
        out[link["id"]] = np.where(down, np.inf if link["availability"] == 0 else rest, 0.0)
    return out


def delivery_lag(channel, rest):
    if channel["repeatMin"] is None:
        attempt = np.where(rest > 0, np.inf, 0.0)
    else:
        attempt = np.where(np.isinf(rest), np.inf, np.ceil(rest / channel["repeatMin"]) * channel["repeatMin"])
    if channel["supervisedMin"] is None:
        return attempt
    silence = channel["supervisedMin"] + channel["checkAfterSilenceMin"]
    return np.where(rest > 0, np.minimum(attempt, silence), attempt)


def simulate(model, rng):
    """Instant of noticing by each combination: every channel alone, then all together."""
    calendar = Calendar(model)
    fields = {}

    def watcher(hours, per_minute, zone, away=()):
        if zone not in fields:
            fields[zone] = calendar.local_fields(ZoneInfo(zone))
        week, day = fields[zone]
        active = active_minutes(week, hours)
        for absence in away:
            first, last = (date.fromisoformat(absence[end]).toordinal() for end in ("from", "to"))
            active &= ~((day >= first) & (day <= last))
        return Watcher(active, per_minute)

    days = days_of(model, calendar)
    born = onsets(model, days, rng)
    at = detected(model, days, born, rng)
    rest = deliveries(model, rng)
    empty = np.where(rng.random(FAULTS) < model["siteEmpty"]["share"], model["siteEmpty"]["lengthMin"], 0.0)
    aware = rng.random(FAULTS) >= model["unaware"]
    channels = model["channels"]
    combinations = [[c["id"]] for c in channels] + ([[c["id"] for c in channels]] if len(channels) > 1 else [])

    heed = {r["id"]: rng.random(FAULTS) for r in model["readers"]}
    look = {r["id"]: watcher(r["hours"], r["looksPerMinute"], r.get("timezone", model["timezone"]), r["away"])
            for r in model["readers"]}
    results = []
    for ids in combinations:
        used = [c for c in channels if c["id"] in ids]
        first = np.full(FAULTS, np.inf)
        for name in sorted({r for c in used if c["signal"] == "message" for r in c["readers"]}):
            told = np.full(FAULTS, np.inf)
            for c in used:
                if c["signal"] == "message" and name in c["readers"]:
                    lag = delivery_lag(c, rest[c["link"]])
                    told = np.where(heed[name] >= c["neverHeeds"], np.minimum(told, lag), told)
            first = np.minimum(first, look[name].notices(at + told, rng))
        for c in used:
            if c["signal"] != "message":
                watch = watcher(c["hours"], c["noticesPerMinute"], model["timezone"])
                noticed = watch.notices(at + empty, rng)
                alive = aware & (rng.random(FAULTS) >= c["dead"])
                first = np.minimum(first, np.where(alive, noticed, np.inf))
        results.append((ids, first - born))
    return results


def main():
    rng = np.random.default_rng(SEED)
    cases = []
    for entry in SITES:
        answers = []
        for ids, minutes in simulate(entry["model"], rng):
            unnoticed = [float(np.mean(minutes > 60 * h)) for h in LAGS_HOURS]
            answers.append({"channels": ids, "unnoticed": unnoticed})
        cases.append({"site": entry["site"], "model": entry["model"], "answers": answers})
        print(entry["site"], file=sys.stderr)
    out = {
        "generatedBy": "generate.py",
        "versions": {"python": platform.python_version(), "numpy": np.__version__, "ephem": ephem.__version__},
        "seed": SEED,
        "faults": FAULTS,
        "lagsHours": LAGS_HOURS,
        "cases": cases,
    }
    Path(__file__).with_name("cases.json").write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
