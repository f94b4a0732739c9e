"""Areas of buffers by GEOS, for geos_test.go: reads a list of cases in JSON, writes the list of their areas.

Coordinates are in millimetres. GEOS leaves out shallow concave corners before it buffers; so a dense outline is put
together from the buffers of its edges instead ("edges"), which nothing is left out of.
"""
import json
import sys

from shapely.geometry import LinearRing, LineString, Polygon
from shapely.ops import unary_union

QUARTER = 256  # chords in a quarter turn
CAP = {"round": 1, "butt": 2, "square": 3}
JOIN = {"round": 1, "mitre": 2, "bevel": 3}
LIMIT = 1000.0  # GEOS clips a mitre that is too long where SVG bevels it: no mitre here is


def area(case):
    if case["kind"] == "stroke":
        line = (LinearRing if case["closed"] else LineString)(case["rings"][0])
        return line.buffer(case["by"], QUARTER, cap_style=CAP[case["cap"]], join_style=JOIN[case["join"]], mitre_limit=LIMIT).area
    shape = Polygon(case["rings"][0], case["rings"][1:])
    if case["kind"] == "offset":
        return shape.buffer(case["by"], QUARTER, join_style=JOIN[case["join"]], mitre_limit=LIMIT).area
    edges = []
    for ring in case["rings"]:
        for a, b in zip(ring, ring[1:] + ring[:1]):
            edges.append(LineString([a, b]).buffer(abs(case["by"]), QUARTER))
    rim = unary_union(edges)
    return (shape.union(rim) if case["by"] > 0 else shape.difference(rim)).area


json.dump([area(case) for case in json.load(sys.stdin)], sys.stdout)
