"""The mechanism of an S-cam drum air brake: parts, exact kinematics, forces, wear and heat.

Inside this package lengths are mm, forces N, angles rad, temperatures K, pressures MPa (N/mm2), torques N*mm.
"""
