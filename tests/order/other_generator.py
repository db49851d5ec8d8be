"""Simulates jobs another way than the order does: each zone of each floor is coated, coat by coat, from the catalog's
ranges, with films built up as wet mils; mock-ups weight the simulated jobs by how likely they make what was measured.

Nothing of the order package is used. The generator, the order of composition and the treatment of a mock-up (weights
instead of an update) differ; only the stated model is the same: ranges are the 10th and 90th percentile on the log
scale, and the shares of variance that floor, product, zone, crew and loss have are those of the catalog's limits.
"""

import math

import numpy as np

CUBIC_INCHES_PER_GALLON = 231


class OtherGenerator:
    """Jobs simulated with a Mersenne Twister."""

    def __init__(self, catalog, jobs, seed):
        self.catalog, self.jobs = catalog, jobs
        self.random = np.random.RandomState(seed)
        self.normals = {}

    def normal(self, *what):
        """The standard normal of one cause in every job."""
        if what not in self.normals:
            self.normals[what] = self.random.normal(size=self.jobs)
        return self.normals[what]

    def share(self, name):
        return self.catalog.limits[f"share-{name}"].value

    def mixed(self, band, parts):
        """A lognormal quantity whose log is made up of causes with shares of its variance."""
        if band.low == band.high:
            return np.full(self.jobs, float(band.expected))
        sd = (math.log(band.high) - math.log(band.low)) / 2.563103131089201
        deviation = sum(math.sqrt(share) * self.normal(*cause) for cause, share in parts.items())
        return band.expected * np.exp(sd * deviation)

    def used_per_ft2(self, works, use, zone, *, where="zone"):
        """Units that one coat takes on a square foot of a zone."""
        material = self.catalog.materials[use.material]
        reached = self.reached(material)
        own = ("own", works.floor, material.id)
        spot = (where, works.floor, material.id, zone)
        first = 1.0
        if use.first_coat and material.first_coat_factor:
            first = self.mixed(material.first_coat_factor, {("first coat", works.floor): 1})
        if use.basis == "film":
            hand, build, by_zone = self.share("hand"), self.share("build"), self.share("zone")
            solids = ("solids", material.id)
            parts = {("hand",): hand, solids: build, spot: by_zone, own: 1 - hand - build - by_zone}
            wet = self.mixed(material.dry_film_mils, parts) / self.mixed(material.volume_solids, {solids: 1})
            if use.first_coat and works.profile_fill_mils.expected:
                wet = wet + self.mixed(works.profile_fill_mils, {("profile", works.floor): 1})
            return first * wet / 1000 * 144 / CUBIC_INCHES_PER_GALLON / reached
        rates = getattr(material.spread_ft2_per_unit, works.absorption)
        if material.unit == "gal":
            floor, product, by_zone = self.share("floor"), self.share("product"), self.share("zone")
            parts = {
                ("floor", works.floor): floor,
                ("product", material.id): product,
                spot: by_zone,
                own: 1 - floor - product - by_zone,
            }
        else:
            parts = {own: 1}
        # a rate that is lower takes more: the sign of each cause is turned, which leaves its law as it is
        rate = rates.expected**2 / self.mixed(rates, parts)
        return first / rate / reached

    def reached(self, material):
        """Share of the material that reaches the floor."""
        low, high = 1 - material.loss.high, 1 - material.loss.low
        if low == high:
            return np.full(self.jobs, high)
        sd = (math.log(high) - math.log(low)) / 2.563103131089201
        common = self.share("loss")
        deviation = math.sqrt(common) * self.normal("loss") + math.sqrt(1 - common) * self.normal("loss", material.id)
        return (1 - material.loss.expected) * np.exp(-sd * deviation)

    def needs(self, all_works):
        """What each job takes of each material, by id; pieces that are counted are left out."""
        needs = {}
        for works in all_works:
            for task in works.tasks:
                for use in task.materials:
                    if not task.certain or task.extent == "count":
                        continue
                    amount = self.needed(works, task, use)
                    needs[use.material] = needs.get(use.material, 0.0) + amount
        return needs

    def needed(self, works, task, use):
        material = self.catalog.materials[use.material]
        if use.basis in ("film", "rate"):
            total = 0.0
            for coat in range(use.coats):
                this = use if coat == 0 else use.model_copy(update={"first_coat": False})
                mock_up = works.mock_up_ft2 if use.layer else 0.0
                share = 1 + mock_up / works.area_ft2
                for number, zone in enumerate(works.zones):
                    total = total + share * zone.area_ft2 * self.used_per_ft2(works, this, number)
            return total
        band = {
            "weight": material.weight_lb_per_ft2,
            "length": material.per_ft,
            "volume": material.per_ft3,
            "count": material.per_piece,
        }[use.basis]
        extent = {
            "weight": task.quantity + (works.mock_up_ft2 if use.layer else 0),
            "length": task.quantity,
            "volume": task.volume_ft3,
            "count": 1,
        }[use.basis]
        own = {("own", works.floor, material.id): 1}
        return use.coats * extent * self.mixed(band, own) / self.reached(material)

    def likelihood(self, works, use, measured_per_ft2):
        """How likely each job makes what a mock-up measured, up to a factor."""
        error_sd = self.catalog.limits["mock-up-sd"].value
        expected = self.used_per_ft2(works, use, 0, where="mock-up patch")
        return np.exp(-(((math.log(measured_per_ft2) - np.log(expected)) / error_sd) ** 2) / 2)


def risk_of(order, needs, weights):
    """Chance that anything ordered runs short, and its standard error, in weighted jobs."""
    short = np.zeros(len(weights), dtype=bool)
    ordered = {packs.material: packs.ordered for packs in order.packs}
    for material, need in needs.items():
        short |= need > ordered[material]
    weights = weights / weights.sum()
    risk = float(weights @ short)
    return risk, float(np.sqrt(weights**2 @ (short - risk) ** 2))
