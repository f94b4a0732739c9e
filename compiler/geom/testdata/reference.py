"""Areas by GEOS, for reference_test.go: reads a list of drawings in JSON, writes for each [union, difference, buffer,
stroke].

A shape is a list of rings in millimetres, the outer one first. The first operand is the union
of the shapes "a", the second that of "b". "plain" is shapes that nothing overlaps: they are grown by "by", and their rings
drawn along with a line of the width "width".
"""
import json
import sys

from shapely.geometry import LinearRing, MultiLineString, MultiPolygon, Polygon
from shapely.ops import unary_union

QUARTER = 256  # chords in a quarter turn
JOIN = {"round": 1, "mitre": 2, "bevel": 3}
LIMIT = 1000.0  # GEOS clips a mitre that is too long where SVG bevels it: no mitre here is


def polygons(shapes):
    return [Polygon(rings[0], rings[1:]) for rings in shapes]


def areas(case):
    a, b = unary_union(polygons(case["a"])), unary_union(polygons(case["b"]))
    plain = MultiPolygon(polygons(case["plain"]))
    if not plain.is_valid:
        raise ValueError("a drawing to be grown crosses itself")
    lines = MultiLineString([LinearRing(ring) for shape in case["plain"] for ring in shape])
    how = {"join_style": JOIN[case["join"]], "mitre_limit": LIMIT}
    return [
        a.union(b).area,
        a.difference(b).area,
        plain.buffer(case["by"], QUARTER, **how).area,
        lines.buffer(case["width"] / 2, QUARTER, **how).area,
    ]


json.dump([areas(case) for case in json.load(sys.stdin)], sys.stdout)
