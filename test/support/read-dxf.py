"""Second reader of DXF files: prints what it finds and measures, as JSON. Usage: read-dxf.py FILE"""
import json
import sys

import ezdxf
from ezdxf import bbox

document = ezdxf.readfile(sys.argv[1])
audit = document.audit()
space = document.modelspace()


def spline(entity):
    tool = entity.construction_tool()
    points = [tool.point(t) for t in (tool.max_t * i / 2000 for i in range(2001))]
    return {
        "layer": entity.dxf.layer,
        "degree": tool.degree,
        "controls": len(entity.control_points),
        "centre": [(max(p.x for p in points) + min(p.x for p in points)) / 2, (max(p.y for p in points) + min(p.y for p in points)) / 2],
        "width": max(p.x for p in points) - min(p.x for p in points),
        "height": max(p.y for p in points) - min(p.y for p in points),
        "length": sum(a.distance(b) for a, b in zip(points, points[1:])),
    }


print(json.dumps({
    "version": document.dxfversion,
    "units": document.units,
    "errors": [str(e) for e in audit.errors],
    "fixes": [str(e) for e in audit.fixes],
    "layers": {l.dxf.name: [l.dxf.linetype, l.dxf.lineweight] for l in document.layers},
    "circles": [[c.dxf.layer, c.dxf.center.x, c.dxf.center.y, c.dxf.radius] for c in space.query("CIRCLE")],
    "arcs": [[c.dxf.layer, c.dxf.radius, c.start_point.x, c.start_point.y, c.end_point.x, c.end_point.y]
             for c in space.query("ARC")],
    "lines": [[l.dxf.layer, l.dxf.start.x, l.dxf.start.y, l.dxf.end.x, l.dxf.end.y] for l in space.query("LINE")],
    "splines": [spline(s) for s in space.query("SPLINE")],
    "polylines": [{
        "layer": p.dxf.layer,
        "closed": p.closed,
        "bulges": sum(1 for v in p.get_points("b") if v[0] != 0),
        "width": bbox.extents([p]).size.x,
        "height": bbox.extents([p]).size.y,
        "centre": [bbox.extents([p]).center.x, bbox.extents([p]).center.y],
    } for p in space.query("LWPOLYLINE")],
    "texts": [[t.dxf.layer, t.dxf.text, t.dxf.height, t.dxf.rotation] for t in space.query("TEXT")],
}, ensure_ascii=True))
