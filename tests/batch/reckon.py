"""Effort, detections and rates worked out anew from the CSV tables, with
nothing of the program's but the meanings its contract gives."""

import csv
import datetime
import math
import zoneinfo

DAY_S = 86400.0


def read_rows(path):
    with open(path, encoding='utf-8', newline='') as file:
        return list(csv.DictReader(file))


def read_time(text, zone):
    """Seconds since 1970, exact to the millisecond; None for an empty cell."""
    if not text:
        return None
    moment = datetime.datetime.fromisoformat(text.replace('Z', '+00:00'))
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=zone)
    return round(moment.timestamp() * 1000) / 1000


def poisson_cdf(n, mean):
    """Chance of at most n events; the terms are summed from the greatest down."""
    if n < 0:
        return 0.0
    if mean == 0:
        return 1.0
    return math.fsum(math.exp(k * math.log(mean) - mean - math.lgamma(k + 1)) for k in range(n, -1, -1))


def bisect(function, low, high):
    """Where a falling function crosses nought."""
    for _ in range(200):
        middle = (low + high) / 2
        if function(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def garwood(n, level=0.95):
    """Exact limits of a Poisson mean, from their definition (Garwood 1936, Biometrika 28:437-442): the mean at which n or
    more, and n or fewer, have a chance of (1 - level) / 2."""
    tail = (1 - level) / 2
    top = 10 + 3 * n + 10 * math.sqrt(n + 1)
    lower = 0.0 if n == 0 else bisect(lambda mean: tail - (1 - poisson_cdf(n - 1, mean)), 0.0, top)
    upper = bisect(lambda mean: poisson_cdf(n, mean) - tail, 0.0, top)
    return lower, upper


def unite(spans):
    united = []
    for start, end in sorted(span for span in spans if span[1] > span[0]):
        if united and start <= united[-1][1]:
            united[-1][1] = max(united[-1][1], end)
        else:
            united.append([start, end])
    return united


def subtract(span, holes):
    left, at = [], span[0]
    for start, end in unite(holes):
        if end <= at or start >= span[1]:
            continue
        if start > at:
            left.append((at, start))
        at = max(at, end)
    return left + ([(at, span[1])] if at < span[1] else [])


class Reckoning:
    def __init__(self, folder, zone):
        self.zone = zoneinfo.ZoneInfo(zone)
        for name in ('stations', 'deployments', 'visits', 'observations', 'species', 'frames'):
            setattr(self, name, read_rows('%s/%s.csv' % (folder, name)))
        self.station_of = {row['deployment']: row['station'] for row in self.deployments}

    def at(self, text):
        return read_time(text, self.zone)

    def signs(self, deployment):
        """When a deployment showed that it worked: frames and observations."""
        signs = [self.at(row['start']) for row in self.observations if row['deployment'] == deployment]
        return signs + [self.at(row['camera_time']) for row in self.frames if row['deployment'] == deployment]

    def outages(self, row):
        """(from, to, why): found out of order, it counts until its last proof of life."""
        start, end = self.at(row['start']), self.at(row['end'])
        visits = sorted((self.at(visit['at']), visit['found']) for visit in self.visits if visit['station'] == row['station'])
        proof, outages = start, []
        for at, found in visits:
            if not start < at <= end:
                continue
            if found in ('dead', 'card-full', 'gone'):
                last = max([proof] + [sign for sign in self.signs(row['deployment']) if sign <= at])
                if last < at:
                    outages.append((last, at, found))
            proof = at
        return outages

    def worked(self, stations=None, begin=-math.inf, end=math.inf):
        """{deployment: [(from, to)]} within a period."""
        worked = {}
        for row in self.deployments:
            if stations is None or row['station'] in stations:
                span = (max(self.at(row['start']), begin), min(self.at(row['end']), end))
                holes = [(gap[0], gap[1]) for gap in self.outages(row)]
                worked[row['deployment']] = subtract(span, holes) if span[0] < span[1] else []
        return worked

    def nights(self, **period):
        return math.fsum(to - since for spans in self.worked(**period).values() for since, to in spans) / DAY_S

    def records(self, species, station, begin, end):
        records = []
        for row in self.observations:
            start = self.at(row['start'])
            if row['type'] == 'animal' and row['scientific_name'] == species and \
                    self.station_of[row['deployment']] == station and begin <= start < end:
                records.append((start, max(start, self.at(row['end']) or start), int(row['count'] or 1)))
        return sorted(records, key=lambda record: record[0])

    def detections(self, species, station, minutes=30, gap_from='last', begin=-math.inf, end=math.inf):
        """[(start, animals)] by the rule in the contract; a gap of exactly the interval separates."""
        found, last_end, first_start = [], None, None
        for start, stop, count in self.records(species, station, begin, end):
            since = last_end if gap_from == 'last' else first_start
            if since is None or minutes == 0 or round((start - since) * 1000) >= minutes * 60000:
                found.append([start, count])
                first_start = start
            else:
                found[-1][1] = max(found[-1][1], count)
            last_end = stop if last_end is None else max(last_end, stop)
        return found

    def has_hour(self, moment, hours):
        if hours is None:
            return True
        local = datetime.datetime.fromtimestamp(moment, self.zone)
        minute = local.hour * 60 + local.minute
        since, to = ((int(part[:2]) * 60 + int(part[3:])) for part in hours.split('-'))
        return since <= minute < to if since < to else minute >= since or minute < to

    def rates(self, stations=None, species=None, minutes=30, gap_from='last', begin=-math.inf, end=math.inf, hours=None,
              within=(-math.inf, math.inf)):
        """{species: (detections, individuals, stations, nights, per_100, low, high)} of those seen, or of those asked for. Of what
        is counted in the period, only the detections that start, and the nights that lie, within."""
        nights = self.nights(stations=stations, begin=max(begin, within[0]), end=min(end, within[1]))
        rates = {}
        for name in species or [row['scientific_name'] for row in self.species]:
            found, places = [], 0
            for station in stations or [row['station'] for row in self.stations]:
                here = [one for one in self.detections(name, station, minutes, gap_from, begin, end)
                        if self.has_hour(one[0], hours) and within[0] <= one[0] < within[1]]
                places += bool(here)
                found += here
            if found or species:
                low, high = garwood(len(found))
                rate = [100 * number / nights if nights > 0 else None for number in (len(found), low, high)]
                rates[name] = (len(found), sum(one[1] for one in found), places, nights, *rate)
        return rates
