"""Areas far from every spot: seldom meant, mostly a latitude and a longitude that changed places."""

from __future__ import annotations

from collections.abc import Iterable

from models.exchange.geodesy import metres_between
from models.rules.areas import Shape
from models.store import spots
from models.store.engine import Store
from models.street.town import Box, box_of, box_round

FAR_M = 50_000.0
"""An area this far from every spot is asked about: a day's work lies nearer. Common practice, no source."""


def far_words(store: Store, shape: Shape, kept: Shape | None = None) -> str:
    """'It lies about 6,900 km from Foundry Lane, the nearest spot.'; nothing near a spot, or where there is none.

    kept: the shape of an area as it stands, of which nothing is asked again.
    """
    box = box_of(point for rings in shape for point in rings[0])
    middle = (box.south + box.north) / 2, (box.west + box.east) / 2
    with store.reading() as s:
        near = shape == kept or spots.count_spots(s, box=widened(box)) > 0
        nearest = () if near else spots.list_spots(s, order_by="distance", here=middle, limit=1)
    if not nearest:
        return ""
    away_m = metres_between(middle, (nearest[0].latitude_deg, nearest[0].longitude_deg))
    return f"It lies about {away_m / 1000:,.0f} km from {nearest[0].name}, the nearest spot."


def town_box(places: Iterable[tuple[float, float]], areas: Iterable[Box]) -> Box:
    """Round spots, (longitude, latitude) in degrees, and those areas that are not far from them."""
    town = box_of(places)
    near = [town, *(area for area in areas if widened(town).meets(area))]
    return box_of(corner for box in near for corner in ((box.west, box.south), (box.east, box.north)))


def widened(box: Box) -> Box:
    """With all that is not far from it."""
    low, high = box_round(box.south, box.west, FAR_M), box_round(box.north, box.east, FAR_M)
    return Box(low.south, low.west, high.north, high.east)
