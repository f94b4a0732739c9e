"""Time of GEOS's unary_union, for speed_test.go: reads {"rings": [[[x, y], ...], ...], "repeat": n} in JSON, writes
{"seconds": the least processor time of a call, "area": the area}.
"""
import json
import sys
import time

from shapely.geometry import Polygon
from shapely.ops import unary_union

task = json.load(sys.stdin)
shapes = [Polygon(ring) for ring in task["rings"]]
best = float("inf")
for _ in range(task["repeat"]):
    begin = time.process_time()
    union = unary_union(shapes)
    best = min(best, time.process_time() - begin)
json.dump({"seconds": best, "area": union.area}, sys.stdout)
