"""Twenty invented sites for the time to notice, in the shape the engine's notice model has."""

DAY = 1440


def hours(days, *spans):
    """Spans of the clock (hours) on days of the week (Monday = 0), as minutes of the week."""
    return [
        {"fromMinute": round(d * DAY + a * 60), "toMinute": round(d * DAY + b * 60)} for d in days for a, b in spans
    ]


ALL = range(7)
WORK = range(5)
WEEKEND = (5, 6)


def reader(name, when, looks_per_hour, timezone=None, away=()):
    out = {
        "id": name,
        "hours": when,
        "looksPerMinute": looks_per_hour / 60,
        "away": [{"from": a, "to": b} for a, b in away],
    }
    return out | ({"timezone": timezone} if timezone else {})


def message(name, readers, link="net", repeat=60, supervised=None, never=0.05):
    return {
        "signal": "message",
        "id": name,
        "link": link,
        "readers": readers,
        "repeatMin": repeat,
        "supervisedMin": supervised,
        "checkAfterSilenceMin": 1440,
        "neverHeeds": never,
    }


def on_site(signal, name, when, per_hour, dead=0.0):
    return {"signal": signal, "id": name, "hours": when, "noticesPerMinute": per_hour / 60, "dead": dead}


def link(name, availability, outage_hours):
    return {"id": name, "availability": availability, "meanOutageMin": outage_hours * 60}


def site(name, zone, lat, lon, channels, readers=(), links=(), **more):
    model = {
        "latitudeDeg": lat,
        "longitudeDeg": lon,
        "timezone": zone,
        "yearFrom": "2026-01-01",
        "onset": {"dawnWetShare": 0.4, "daylightShare": 0.3, "dewBeforeSunriseMin": 180, "dewAfterSunriseMin": 60},
        "detector": {"atStart": True, "continuous": False, "residualShare": 0, "startAfterSunriseMin": 20},
        "links": list(links),
        "readers": list(readers),
        "channels": list(channels),
        "siteEmpty": {"share": 2 / 52, "lengthMin": 7 * DAY},
        "unaware": 0.1,
    }
    for key, value in more.items():
        model[key] = {**model[key], **value} if isinstance(value, dict) else value
    return {"site": name, "model": model}


OFFICE = hours(WORK, (9, 17))
EVENING = hours(ALL, (18, 22))
ALWAYS = hours(ALL, (0, 24))

SITES = [
    site("one reader in office hours", "Australia/Melbourne", -37.1, 143.9, [message("m", ["a"])],
         [reader("a", OFFICE, 2)], [link("net", 0.98, 9)]),
    site("two readers, one at weekends", "Europe/London", 55.0, -3.0, [message("m", ["a", "b"])],
         [reader("a", OFFICE, 1), reader("b", hours(WEEKEND, (8, 18)), 0.5)], [link("net", 0.95, 30)]),
    site("four readers round the clock", "America/Los_Angeles", 36.0, -120.0, [message("m", ["a", "b", "c", "d"])],
         [reader("a", OFFICE, 2), reader("b", EVENING, 1), reader("c", ALWAYS, 0.2), reader("d", hours(ALL, (5, 8)), 3)],
         [link("net", 0.99, 5)]),
    site("sent once over a weak link", "Pacific/Auckland", -41.0, 175.0, [message("m", ["a", "b"], repeat=None, never=0.24)],
         [reader("a", OFFICE, 1), reader("b", EVENING, 2)], [link("net", 0.8, 40)]),
    site("supervised weak link", "Pacific/Auckland", -41.0, 175.0, [message("m", ["a", "b"], supervised=360)],
         [reader("a", OFFICE, 1), reader("b", EVENING, 2)], [link("net", 0.7, 120)]),
    site("dead link, supervised", "Europe/Madrid", 40.0, -4.0, [message("m", ["a"], supervised=1440)],
         [reader("a", OFFICE, 3)], [link("net", 0.0, 1)]),
    site("dead link, nobody notices", "Europe/Madrid", 40.0, -4.0, [message("m", ["a"])],
         [reader("a", OFFICE, 3)], [link("net", 0.0, 1)]),
    site("reader in another zone", "America/New_York", 43.0, -75.0, [message("m", ["a"])],
         [reader("a", OFFICE, 2, timezone="Asia/Tokyo")], [link("net", 0.97, 12)]),
    site("reader away in March and August", "Europe/Berlin", 52.0, 10.0, [message("m", ["a", "b"])],
         [reader("a", ALWAYS, 1, away=[("2026-03-01", "2026-03-31"), ("2026-08-03", "2026-08-30")]),
          reader("b", OFFICE, 0.1)], [link("net", 0.98, 9)]),
    site("annunciator in a dairy", "Australia/Melbourne", -37.1, 143.9,
         [on_site("annunciator", "s", hours(ALL, (5, 10), (15, 19)), 6, dead=0.05)]),
    site("indicator passed six times a day", "Australia/Adelaide", -34.0, 138.6,
         [on_site("indicator", "l", hours(ALL, (7, 19)), 0.25)]),
    site("three paths, four people", "Australia/Melbourne", -37.1, 143.9,
         [message("m", ["a", "b", "c", "d"], supervised=1440),
          on_site("annunciator", "s", hours(ALL, (5, 10), (15, 19)), 6, dead=0.05),
          on_site("indicator", "l", hours(ALL, (7, 19)), 0.25)],
         [reader("a", hours(ALL, (6, 21)), 1 / 3), reader("b", hours(WORK, (7, 17)), 2),
          reader("c", OFFICE, 1 / 3), reader("d", hours(ALL, (8, 17)), 1 / 9)], [link("net", 0.98, 9)]),
    site("two messages on one link", "Europe/Rome", 42.0, 12.0,
         [message("m", ["a", "b"], repeat=120), message("n", ["b", "c"], repeat=None, never=0.24)],
         [reader("a", OFFICE, 0.5), reader("b", EVENING, 1), reader("c", ALWAYS, 0.1)], [link("net", 0.75, 20)]),
    site("two messages on two links", "Europe/Rome", 42.0, 12.0,
         [message("m", ["a", "b"], repeat=60), message("n", ["b", "c"], link="radio", repeat=15, never=0.15)],
         [reader("a", OFFICE, 0.5), reader("b", EVENING, 1), reader("c", ALWAYS, 0.1)],
         [link("net", 0.8, 30), link("radio", 0.6, 6)]),
    site("continuous check", "America/Denver", 40.0, -105.0, [message("m", ["a", "b"])],
         [reader("a", OFFICE, 2), reader("b", EVENING, 0.5)], [link("net", 0.98, 9)], detector={"continuous": True}),
    site("residual monitor sees half", "Asia/Kolkata", 20.0, 77.0, [message("m", ["a"])],
         [reader("a", hours(range(6), (8, 20)), 1)], [link("net", 0.9, 24)], detector={"residualShare": 0.5}),
    site("residual monitor only", "Atlantic/Azores", 38.0, -28.0, [on_site("annunciator", "s", ALWAYS, 2)],
         detector={"atStart": False, "residualShare": 0.6}),
    site("north of the circle", "Europe/Oslo", 70.0, 25.0, [message("m", ["a", "b"])],
         [reader("a", OFFICE, 2), reader("b", EVENING, 0.3)], [link("net", 0.98, 9)]),
    site("north of the circle, continuous", "Europe/Oslo", 70.0, 25.0, [message("m", ["a"])],
         [reader("a", OFFICE, 2)], [link("net", 0.98, 9)], detector={"continuous": True}),
    site("empty hours and a rare passer-by", "America/Santiago", -36.0, -72.0,
         [message("m", ["a"]), on_site("indicator", "l", hours((2,), (10, 11)), 1.5)],
         [reader("a", [], 5)], [link("net", 0.98, 9)]),
]
