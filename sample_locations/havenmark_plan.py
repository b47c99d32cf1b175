"""The plan of Havenmark, an invented town: metres east and north of the middle of its square.

Nothing here was measured anywhere. Edit the tables, run `python -m sample_locations.draw_havenmark`, look at plan.svg.
"""

from __future__ import annotations

from typing import NamedTuple

Point = tuple[float, float]
Line = tuple[Point, ...]

LATITUDE_DEG, LONGITUDE_DEG = 52.53, 5.23

ISLAND: Line = (
    (-311, -196), (-301, -62), (-296, 60), (-274, 166), (-262, 218), (-190, 268), (-60, 282), (90, 292), (230, 284),
    (330, 248), (388, 170), (414, 60), (408, -70), (372, -172), (292, -246), (170, -282), (20, -292), (-130, -284),
    (-262, -256),
)  # fmt: skip
CANAL: Line = ((-320, -70), (-250, -66), (-190, -48), (-105, -52), (-40, -72), (30, -92), (92, -95), (158, -100))
CANAL_WIDTH_M = 14.0
CANAL_CORRIDOR_M = 33.0
BASIN: Line = ((150, -114), (196, -118), (199, -86), (152, -84))
SQUARE: Line = ((-37, -29), (26, -35), (36, 20), (33, 24), (-33, 28))
PARK: Line = ((116, 126), (150, 129), (254, 127), (256, 226), (190, 236), (112, 214))


class Street(NamedTuple):
    """A street: its middle line, the width between the house fronts, what is under foot, and who may be there."""

    name: str
    width_m: float
    surface: str
    kind: str
    line: Line


STREETS: tuple[Street, ...] = (
    Street("West Quay", 20, "sett", "pedestrian", ((-301, -190), (-291, -62), (-286, 60), (-264, 160))),
    Street("Harbour Street", 11, "paving_stones", "pedestrian", ((-288, 38), (-250, 40), (-204, 30), (-122, 20),
           (-34, 8))),
    Street("Station Road", 13, "asphalt", "residential", ((30, 0), (106, 8), (190, 22), (282, 26), (400, 40))),
    Street("Foundry Lane", 9, "sett", "living_street", ((106, 8), (112, 58), (103, 106))),
    Street("Chapel Street", 10, "paving_stones", "residential", ((-122, 20), (-131, 60), (-128, 96), (-137, 150),
           (-128, 214))),
    Street("Sailmaker Street", 9, "sett", "residential", ((-204, 30), (-214, 84), (-206, 116), (-218, 196))),
    Street("North Street", 12, "asphalt", "residential",
           ((-278, 100), (-240, 120), (-206, 116), (-128, 96), (-70, 104), (-41, 92), (34, 97), (103, 106),
           (150, 120), (270, 118))),
    Street("Wall Walk", 12, "paving_stones", "residential",
           ((-266, 160), (-218, 196), (-150, 214), (-80, 214), (-10, 204), (60, 206), (112, 222), (190, 244),
           (270, 232))),
    Street("Cooper Street", 9.5, "sett", "pedestrian", ((-30, 22), (-28, 55), (-44, 92), (-38, 140), (-18, 204))),
    Street("Bell Street", 9, "paving_stones", "residential", ((34, 97), (40, 130), (66, 165), (60, 206))),
    Street("Tanner Street", 10, "paving_stones", "residential", ((-4, -28), (-6, -80), (14, -150), (-6, -236))),
    Street("Net Street", 9, "sett", "residential", ((-150, -50), (-138, -92), (-150, -140), (-120, -222))),
    Street("Mill Street", 11, "asphalt", "residential",
           ((-296, -140), (-240, -130), (-150, -140), (-60, -158), (14, -150), (96, -160), (176, -146), (268, -128))),
    Street("South Wall", 12, "asphalt", "residential",
           ((-301, -190), (-250, -222), (-180, -228), (-120, -222), (-6, -240), (102, -226), (186, -206), (270, -180))),
    Street("Basin Street", 12, "asphalt", "residential", ((190, 22), (206, -40), (214, -138))),
    Street("Malt Street", 9, "sett", "residential", ((96, -160), (102, -226))),
    Street("Hall Passage", 9, "paving_stones", "pedestrian", ((98, 8), (94, -40), (98, -80))),
    Street("Siding Road", 12, "asphalt", "service", ((270, 232), (268, 122), (270, 26), (266, -128), (270, -180))),
)  # fmt: skip

RAILWAY: Line = ((300, 262), (290, 150), (292, 36), (294, 16), (292, -100), (312, -240))
RAILWAY_WIDTH_M, RAILWAY_TOP_M, BRIDGE_CLEAR_M = 12.0, 6.6, 4.3
BRIDGE = (2, 3)

LINDEN_WALK: Line = ((128, 146), (190, 172), (250, 186))
LINDEN_ROWS_M, LINDEN_STEP_M = 6.0, 8.5


class Quarter(NamedTuple):
    """How the houses of one block are drawn: the block that contains `at`."""

    at: Point
    depth_m: float
    plot_m: float
    storeys: tuple[int, int]
    wings: bool = True
    gaps: float = 0.04


STOREY_M, PLINTH_M = 3.1, 0.8
ORDINARY = Quarter((0, 0), 11.0, 11.0, (2, 4))
QUARTERS: tuple[Quarter, ...] = (
    Quarter((-245, 82), 12.0, 8.0, (3, 4)),
    Quarter((-245, 0), 12.0, 7.5, (3, 4)),
    Quarter((-250, -100), 12.0, 8.0, (3, 4)),
    Quarter((-60, -110), 11.0, 8.0, (2, 4)),
    Quarter((-250, -170), 11.0, 14.0, (1, 3), gaps=0.3),
    Quarter((-60, -190), 11.0, 14.0, (1, 3), gaps=0.35),
    Quarter((50, -190), 11.0, 15.0, (1, 2), gaps=0.35),
    Quarter((150, -180), 12.0, 15.0, (1, 3), gaps=0.35),
    Quarter((150, -20), 12.0, 12.0, (3, 5)),
    Quarter((60, 40), 12.0, 9.0, (3, 5)),
    Quarter((230, 70), 12.0, 13.0, (3, 5), gaps=0.15),
    Quarter((230, -20), 13.0, 16.0, (2, 4), gaps=0.2),
    Quarter((80, 150), 11.0, 10.0, (2, 3), gaps=0.15),
)


class Drawn(NamedTuple):
    """A building drawn by hand: the outline first, then its courtyards; bottom_m above 0 leaves the ground open."""

    name: str
    height_m: float | None
    rings: tuple[Line, ...]
    bottom_m: float = 0.0
    use: str = "yes"
    storeys: int | None = None


DRAWN: tuple[Drawn, ...] = (
    Drawn("Town Hall", 17.5, (((-19.7, 31.7), (24.3, 29.1), (25.3, 46), (-2, 47.6), (-1.2, 60), (-18, 61)),),
          use="civic"),
    Drawn("Town Hall arcade", 17.5, (((-20, 27.2), (24, 24.6), (24.3, 29.1), (-19.7, 31.7)),), 4.6, "civic"),
    Drawn("Town Hall tower", 34.0, (((-2, 47.6), (4.4, 47.2), (4.8, 53.6), (-1.6, 54)),), use="civic"),
    Drawn("Exchange House", 13.8, ((
        (37.5, 9), (66, 12.2), (65, 22), (52, 21), (51, 38), (29, 40), (28.2, 27.8), (34.5, 26)),), use="commercial"),
    Drawn("Market Hall", 11.0, (((33, -41), (74, -46), (77, -21), (37.5, -16)),), use="retail"),
    Drawn("Market Hall lantern", 15.0, (((40, -33.5), (69.5, -37.2), (70.6, -29.6), (41.2, -25.8)),), 11.0, "retail"),
    Drawn("Hall Deck car park", 12.0, (((112, -62), (160, -66), (163, -31), (115, -27)),), use="parking"),
    Drawn("Hall Deck stair tower", 15.4, (((161.6, -46.8), (167.6, -47.3), (168.1, -41.3), (162.1, -40.8)),),
          use="parking"),
    Drawn("Old Foundry", 13.5, ((
        (113.2, 30), (116.5, 58), (110.6, 90), (165, 97), (168, 62), (168, 36), (154, 35), (152, 80), (126.5, 77.5),
        (130, 58), (127, 29)),), use="industrial"),
    Drawn("Foundry chimney", 31.0, (((140, 66), (141.7, 65.3), (143.4, 66), (144.1, 67.7), (143.4, 69.4), (141.7, 70.1),
                                     (140, 69.4), (139.3, 67.7)),), use="chimney"),
    Drawn("Old Brewery", 14.5, ((
        (102.4, 16), (107.5, 58), (102.5, 84), (88, 82), (92.5, 58), (90, 36), (68, 33), (70, 13)),), use="industrial"),
    Drawn("Ropemakers' Almshouses", 7.2, (
        ((-104, 132), (-66, 128), (-62, 164), (-100, 168)), ((-95, 140), (-73, 137.7), (-70.8, 156), (-92.6, 158.4))),
          use="residential"),
    Drawn("Mariners' Church", 18.5, ((
        (-190, 138), (-158, 136), (-153, 140), (-152.6, 146), (-157, 150.6), (-189.2, 152.6)),), use="church"),
    Drawn("Mariners' Church tower", 41.0, (((-199, 140), (-190, 139.4), (-189.4, 149), (-198.4, 149.6)),),
          use="church"),
    Drawn("Harbour School", 11.2, ((
        (-110, 46), (-72, 41), (-69, 66), (-79, 67.3), (-80.6, 53.5), (-99, 56), (-97.2, 71), (-106.8, 72.2)),),
          use="school"),
    Drawn("Weigh House", 8.4, (((-300.4, 74), (-293, 74.4), (-292.2, 85), (-299.6, 85.4)),), use="civic"),
    Drawn("Station", 9.5, (((303, 48), (314, 48.6), (311.4, 98), (300.4, 97.4)),), use="train_station"),
    Drawn("Goods shed", None, (((306, -20), (330, -24), (322, -84), (298.5, -81)),), use="warehouse", storeys=2),
    Drawn("Boat hall", None, (((330, 108), (362, 112), (356, 156), (340, 154), (342.6, 132), (327, 130)),),
          use="warehouse"),
    Drawn("Net loft", None, (((340, -30), (366, -34), (369, -12), (343, -8)),), use="warehouse"),
    Drawn("Malt warehouse", 16.8, (((40, -116), (92, -119.5), (93, -138), (41, -134.5)),), use="warehouse"),
    Drawn("Basin warehouse", 14.2, (((218, -62), (236, -60), (238, -112), (221.6, -114)),), use="warehouse"),
    Drawn("Park pavilion", 5.2, (((214, 204), (228, 206), (226.6, 215), (212.6, 213)),), use="pavilion"),
)  # fmt: skip

CLEARINGS: tuple[Line, ...] = (
    ((131, 16), (137, 17), (138, 34), (132, 33)),  # the gate to the foundry yard
    ((-204, 121), (-138, 104.5), (-142, 152), (-206, 156)),  # the churchyard
    ((27, -50), (88, -57), (94, 8), (30, 4)),  # about the market hall
    ((24, 22), (60, 10), (66, 30), (27, 50)),  # corner of the square
    ((98, -84), (172, -88), (172, -20), (99, -14)),  # drive and stairs of the car park
    ((22, -100), (106, -106), (104, -156), (24, -148)),  # about the malt warehouse
)
"""Open ground inside blocks, where no terrace may stand."""


class Planting(NamedTuple):
    """A row of trees: beside a line, so far from its middle, so far apart; heights and crowns vary by a tenth or so."""

    line: Line
    aside_m: float
    step_m: float
    height_m: float
    crown_radius_m: float
    kind: str


PLANTINGS: tuple[Planting, ...] = (
    Planting(LINDEN_WALK, LINDEN_ROWS_M, LINDEN_STEP_M, 13.5, 3.6, "lime"),
    Planting(LINDEN_WALK, -LINDEN_ROWS_M, LINDEN_STEP_M, 13.5, 3.6, "lime"),
    Planting(((-270, -65), (-190, -46), (-105, -50), (-46, -68)), 9.0, 15.0, 9.5, 2.8, "elm"),
    Planting(((-31, -24), (-28, 18)), 0.0, 9.0, 10.5, 4.0, "plane"),
    Planting(((-270, 166), (-216, 203), (-150, 221), (-80, 221), (-10, 211)), 0.0, 13.0, 12.0, 4.2, "horse chestnut"),
    Planting(((-195, 131), (-155, 127.5)), 0.0, 13.0, 11.0, 4.0, "yew"),
    Planting(((200, 212), (150, 214), (124, 196)), 0.0, 16.0, 15.0, 5.5, "beech"),
)


class Hint(NamedTuple):
    """Something that brings people by, or where a group warms up, tagged as in OpenStreetMap."""

    name: str
    tag: str
    value: str
    at: Point


HINTS: tuple[Hint, ...] = (
    Hint("Havenmark", "railway", "station", (307, 72)),
    Hint("", "railway", "train_station_entrance", (301.5, 66)),
    Hint("Station", "highway", "bus_stop", (276, 33)),
    Hint("Foundry Lane", "highway", "bus_stop", (122, 4)),
    Hint("Town Hall", "highway", "bus_stop", (30, 90)),
    Hint("Harbour School", "amenity", "school", (-91, 55)),
    Hint("Market Square", "amenity", "marketplace", (0, -8)),
    Hint("", "amenity", "toilets", (80, -30)),
    Hint("", "amenity", "shelter", (124, 7)),
    Hint("Ladle and Cup", "amenity", "cafe", (70, 4)),
    Hint("Quay Kiosk", "amenity", "cafe", (-40, -50)),
)
LAMP_STEP_M = 27.0
PAVEMENT_M = 2.2
TOWPATH_M = 9.0
PATHS: tuple[Street, ...] = (
    Street("Linden Walk", 7.0, "fine_gravel", "footway", LINDEN_WALK),
    Street("Park path", 3.0, "fine_gravel", "footway", ((128, 146), (140, 200), (200, 222), (250, 186))),
    Street("Square, west side", 6.0, "sett", "footway", ((-34, 8), (-4, -28))),
    Street("Square, north side", 6.0, "sett", "footway", ((-34, 20), (30, 14), (30, 0))),
    Street("Foundry Yard gate", 4.0, "sett", "footway", ((132, 12), (135, 30), (139, 56))),
    Street("Almshouse passage", 1.8, "paving_stones", "footway", ((-82, 101), (-84, 128), (-83, 148))),
)
