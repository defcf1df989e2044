"""The sums of Stand & Wind, without a screen.

Imports run one way: sits, show -> air, sky -> weather, ground -> angles, units,
errors, references. The clock and the network are arguments; instants are UTC.
"""
