%
o1
g20 g90 g17 g40 g49 g80
t1 m6
g54 g0 x0. y0. s2000 m3
g43 h1 z1.
g1 z-.1 f10.
x1. f20.
g0 z1.
m30
%
