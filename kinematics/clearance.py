"""Gaps over a sweep (interim: sampled)."""
from __future__ import annotations
import numpy as np
import shapely
from kinematics.results import Gap

def gaps(project, sweep, pairs):
    """Interim."""
    arcs = np.linspace(0, sweep.reach_arc, 120) if sweep.reached else np.zeros(1)
    y = sweep.branch.at(arcs) if sweep.reached else np.zeros((1, sweep.closure.unknowns))
    deg = np.degrees(sweep.sign * y[:, sweep.panel]) if sweep.reached else np.zeros(1)
    turns, shifts = sweep.link_turns(y), sweep.shifts(y)
    outs = {o.id: o for o in project.outlines}
    res = []
    for between, want in pairs:
        ab = []
        for n in between:
            o = outs.get(n)
            if o is None:
                pts = np.array([complex(*p.at) for p in project.pivots if n in p.joins]); on = n; hw = project.link(n).width/2; closed=False
            else:
                pts = np.array([complex(*p) for p in o.points]); on = o.on; hw=o.half_width; closed=o.closed
            k = sweep.closure.links.index(on)
            z = shifts[:, k:k+1] + np.exp(1j*turns[:, k:k+1])*pts
            if closed: g=[shapely.Polygon(np.stack([r.real, r.imag], 1)) for r in z]
            elif len(pts)>2 and o is None: g=[shapely.MultiPoint(np.stack([r.real, r.imag], 1)).convex_hull for r in z]
            elif len(pts)<2: g=[shapely.Point(r.real[0], r.imag[0]) for r in z]
            else: g=[shapely.LineString(np.stack([r.real, r.imag], 1)) for r in z]
            ab.append((np.array(g, dtype=object), hw))
        d = np.maximum(shapely.distance(ab[0][0], ab[1][0]) - ab[0][1]-ab[1][1], 0)
        m = int(np.argmin(d)); sl = shapely.get_coordinates(shapely.shortest_line(ab[0][0][m], ab[1][0][m]))
        res.append(Gap(between, float(d[m]), float(deg[m]), (tuple(map(float,sl[0])), tuple(map(float,sl[1]))), float(d[0]), (), want.at_least if want else None, want.after_deg if want else 0.0, bool(d[m]>=want.at_least) if want else None, want is not None, (deg, d)))
    return tuple(res)
