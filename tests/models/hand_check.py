#!/usr/bin/env python3
"""Works out by plain bisection what a person can check of the examples: no code of runnel is used.

Run it by hand; it prints the figures that models/*/expected.yaml calls "hand_check.py". Laws: Colebrook-White
with 3.7 and 2.51 above Re 4000, 64/Re below 2000, Hazen-Williams 10.67/1.852/4.8704; water by Tanaka 2001
and IAPWS SR6-08; air by the US Standard Atmosphere 1976. g = 9.80665.
"""
import math

G, FT, IN = 9.80665, 0.3048, 0.0254
GAL = 231 * IN**3


def density(t):
    return 999.974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def viscosity(t):
    x = (t + 273.15) / 300
    mu = 280.68 * x**-1.9 + 511.45 * x**-7.7 + 61.131 * x**-19.6 + 0.45903 * x**-40
    return mu * 1e-6 / density(t)


def air(h):
    return 101325 * (1 - 0.0065 * h / 288.15) ** 5.255876113


def darcy(q, d, nu, eps=1.5e-6):
    """Loss per metre of pipe."""
    v = q / (math.pi * d * d / 4)
    re = v * d / nu
    assert re < 2000 or re > 4000, re
    f = 64 / re
    if re > 4000:
        x = 8.0
        for _ in range(60):
            x = -2 * math.log10(eps / d / 3.7 + 2.51 * x / re)
        f = 1 / x**2
    return f / d * v * v / (2 * G)


def hazen(q, d, c):
    return 10.67 * q**1.852 / (c**1.852 * d**4.8704)


def vh(q, d):
    v = q / (math.pi * d * d / 4)
    return v * v / (2 * G)


def bisect(f, lo, hi):
    for _ in range(200):
        mid = 0.5 * (lo + hi)
        if f(mid) > 0:
            hi = mid
        else:
            lo = mid
    return mid


def lengths(points):
    return [math.hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(points, points[1:])]


def ranch():
    pts = [(0, 3876), (350, 3858), (800, 3829), (1250, 3846), (1700, 3862), (2100, 3840), (2700, 3801), (3300, 3818),
           (3900, 3836), (4300, 3822), (4900, 3774), (5600, 3738), (6200, 3720)]
    pts = [(s * FT, z * FT) for s, z in pts]
    d = 1.380 * IN

    def level(q):
        # up to the crest at 1700 ft, where the grade line touches the pipe; ball valve K 0.066 (3 fT, fT 0.022)
        run = sum(lengths(pts[:5]))
        return pts[4][1] + hazen(q, d, 140) * run + (0.5 + 1 + 3 * 0.022) * vh(q, d) - 3878 * FT

    q = bisect(level, 1e-6, 1e-2)
    print("ranch_line: flow m3/s", q, "gpm", q * 60 / GAL)


def siphon():
    nu = viscosity(10.0)
    pts = [(0, 649.0), (20, 650.5), (35, 651.6), (60, 650.0), (180, 640)]
    d, run = 0.0326, lengths(pts)
    k = 0.5 + 75 * 0.022 + 8 * 0.022  # entrance, hinged foot valve 75 fT, gate valve 8 fT, fT of 1-1/4 in
    q = bisect(lambda x: darcy(x, d, nu) * sum(run) + k * vh(x, d) + 12 * vh(x, 0.012) - 10.0, 2e-4, 1e-2)
    top = 650.0 - darcy(q, d, nu) * sum(run[:2]) - (0.5 + 75 * 0.022 + 1.0) * vh(q, d)
    print("siphon: flow m3/s", q, "head on the crest m", top - 651.6)


def herd():
    nu, d = viscosity(9.0), 1.358 * IN
    fall = (4691.0 - 4651.9) * FT
    k = 0.5 + 1 + 6  # entrance, exit, float valve
    by_line = bisect(lambda x: darcy(x, d, nu) * 640 * FT + k * vh(x, d) - fall, 2e-4, 1e-2)
    # The mouth in the hill tank, 0.7 ft under water: drowned inlet control of a square edge in a wall, HDS-5.
    over_invert, slope = 0.7 * FT + d / 2, (4690.3 - 4651.9) / 640
    load = math.sqrt((over_invert / d - 0.67 + 0.5 * slope) / 0.0398) / 1.811
    assert load > 2.21, load
    q = min(by_line, load * math.pi * d * d / 4 * math.sqrt(d))
    print("herd_tanks: lower line m3/s", q, "of", by_line, "by its length; hill tank net m3/s", 1.4 * GAL / 60 - q)


def weak():
    print("weak_spring: m3/s", GAL / ((148 + 153 + 151) / 3))


def first():
    """The trough alone: tank level less trough, one pipe, ball valve 3 fT (fT 0.0255 at 20.4 mm), 6 mm opening."""
    nu, d = viscosity(10.0), 0.0204
    run = sum(lengths([(0, 110.2), (40, 106.8), (80, 104.0)]))
    low, high = (bisect(lambda x: darcy(x, d, nu) * run + (0.5 + 3 * ft) * vh(x, d) + 10 * vh(x, 0.006) - 7.0, 9e-5, 2e-4)
                 for ft in (0.027, 0.023))
    print("first_line: trough m3/s between", low, "and", high, "tank net", 2e-4 - low)


def seep():
    wall, rock = 5 * GAL / ((130 + 126 + 128) / 3), 2 * GAL / ((171 + 168 + 174) / 3)
    print("seep_box: m3/s", wall + rock, "of which from the rock spring", rock)
    print("seep_box: static head at the low point W2, m", (2207.4 - 2098.5) * FT, "round the box", (2224.2 - 2098.5) * FT)
    print("seep_box: hut tap alone, m3/s", math.pi / 4 * (IN / 8) ** 2 * math.sqrt(2 * G * (4 * FT - 0.003) / 3))


def village():
    """Tap 1 alone: from the tee's own grade, and alone on the line."""
    nu = viscosity(14.0)
    d = 0.0204
    run = math.hypot(85, 3)
    for grade in (1669.70, 1669.80):
        q = bisect(lambda x: darcy(x, d, nu) * run + 60 * vh(x, 0.015) - (grade - 1648), 1e-5, 1e-2)
        print("village: tap 1 from a grade of", grade, "m at the tee:", q)


def break_pressure():
    w = density(11.0) * G
    print("break_pressure: static at the end of the upper line, m", 2296.5 - 2222.2, "Pa", (2296.5 - 2222.2) * w)
    print("break_pressure: static at 610 m of the lower line, m", 2221.8 - 2141.9)


def pockets(name, source, ha, legs, end):
    """Boyle from the end back, legs (crest, low) straight and uniform: u (u + ha + H - zc) = ha (zc - zl)."""
    h = end
    plain = end
    for zc, zl in reversed(legs):
        b = ha + h - zc
        u = (-b + math.sqrt(b * b + 4 * ha * (zc - zl))) / 2
        h = zc + h - (zc - u)
        plain = plain + zc - zl
    print(name + ": needed level", h, "uncompressed", plain, "source", source)


def loop():
    """Loop flows by Hardy Cross sweeps on the two loops (slow, independent)."""
    nu = viscosity(12.0)
    node = {"north": (318, .30e-3), "east": (312, .55e-3), "south": (306, .80e-3), "west": (315, .35e-3), "middle": (310, .25e-3)}
    bore = {75: .0660, 63: .0554, 50: .0440, 40: .0352}
    pipe = {"ne": (210, 63), "es": (190, 50), "sw": (240, 50), "wn": (160, 63), "em": (120, 40), "mw": (130, 40)}

    def loss(name, q):
        length, dn = pipe[name]
        d = bore[dn]
        re = abs(q) / (math.pi * d * d / 4) * d / nu
        sign = 1 if q >= 0 else -1
        q = abs(q)
        if q == 0:
            return 0.0
        if 2000 <= re <= 4000:  # cubic in Re between 64/Re and Colebrook, value and slope at both ends
            return sign * hermite(q, d, nu) * length
        return sign * darcy(q, d, nu) * length

    # unknowns: flow es and em; the rest by continuity. Loops: north-east-middle-west, east-south-west-middle.
    def residuals(es, em):
        ne = es + em + node["east"][1]
        sw = es - node["south"][1]
        mw = em - node["middle"][1]
        wn = sw + mw - node["west"][1]
        one = loss("ne", ne) + loss("em", em) + loss("mw", mw) + loss("wn", wn)
        two = loss("es", es) + loss("sw", sw) - loss("mw", mw) - loss("em", em)
        return one, two, ne, sw, mw, wn

    es = em = 2e-4
    for _ in range(400):
        es = bisect(lambda x: residuals(x, em)[1], -2e-3, 3e-3)
        em = bisect(lambda x: residuals(es, x)[0], -2e-3, 3e-3)
    one, two, ne, sw, mw, wn = residuals(es, em)
    d = .0660
    total = sum(q for _, q in node.values())
    top = 354.0 - 0.5 * vh(total, d) - darcy(total, d, nu) * 480
    print("loop: ne", ne, "es", es, "em", em, "sw", sw, "mw", mw, "wn", wn)
    print("loop: grade at north", top, "south", top - loss("ne", ne) - loss("es", es), "middle", top - loss("ne", ne) - loss("em", em))


def hermite(q, d, nu, eps=1.5e-6):
    v = q / (math.pi * d * d / 4)
    re = v * d / nu

    def cole(r):
        x = 6.0
        for _ in range(80):
            x = -2 * math.log10(eps / d / 3.7 + 2.51 * x / r)
        return 1 / x**2

    f0, s0, f1 = 0.032, -64 / 2000**2, cole(4000)
    s1 = (cole(4000 * (1 + 1e-6)) - cole(4000 * (1 - 1e-6))) / (8000e-6)
    t, w = (re - 2000) / 2000, 2000
    f = (2 * t**3 - 3 * t * t + 1) * f0 + (t**3 - 2 * t * t + t) * w * s0 + (3 * t * t - 2 * t**3) * f1 + (t**3 - t * t) * w * s1
    return f / d * v * v / (2 * G)


def mountain():
    nu = viscosity(5.0)
    pts = [(0, 3059.4), (40, 3041), (110, 3012), (170, 3004), (230, 3009), (320, 2981), (420, 2968), (480, 2972), (540, 2971.6), (620, 2961.4)]
    run = lengths(pts)
    bore = [0.026] * 5 + [0.0204] * 4

    def level(q, upto):
        h = pts[upto][1]
        for i in range(upto - 1, -1, -1):
            h = h + darcy(q, bore[i], nu) * run[i]
        return h + 1.5 * vh(q, bore[0]) - 3060.0

    for i in range(1, len(pts)):
        print("mountain: flow that reaches", pts[i][0], "m full bore, m3/s", bisect(lambda q: level(q, i), 2e-4, 2e-2))


if __name__ == "__main__":
    seep()
    ranch()
    village()
    break_pressure()
    loop()
    siphon()
    weak()
    first()
    herd()
    mountain()
    ha = lambda alt, t: air(alt) / (density(t) * G)
    pockets("blocked_until_vented", 900.0, ha(850, 10), [(894, 868), (893, 872)], 882)
    pockets("doubtful_start", 500.0, ha(400, 10), [(488, 472)], 490)
