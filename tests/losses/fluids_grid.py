"""Friction factors by an independent general library (Debian python3-fluids).

Reads lines "Reynolds relative_roughness", writes lines "Colebrook Clamond Churchill", 17 digits each.
"""
import sys

from fluids.friction import Churchill_1977, Clamond, Colebrook

for line in open(sys.argv[1]):
    reynolds, roughness = (float(word) for word in line.split())
    print("%.17g %.17g %.17g" % (Colebrook(reynolds, roughness), Clamond(reynolds, roughness),
                                 Churchill_1977(reynolds, roughness)))
