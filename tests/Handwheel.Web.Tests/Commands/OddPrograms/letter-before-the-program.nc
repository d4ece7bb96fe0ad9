Dear colleague,
please find the program below.
%
O48
G20 G90 G17 G40 G49 G80
T1 M6
G54 G0 X0. Y0. S2000 M3
G43 H1 Z1.
G0 Z1.
M30
%
