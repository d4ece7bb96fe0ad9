%
O16
G20 G90 G17 G40 G49 G80
T1 M6
G54 G0 X0. Y0. S2000 M3
G43 H1 Z1.
G1 Z-.1 F10.
G0 Z1.
M30
tool list follows: T1 1/2 end mill?!
