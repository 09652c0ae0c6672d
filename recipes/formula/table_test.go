package formula

const all = "n a b c p d s u e y w"

var inferenceTable = []matrix{
	{"Sums", "L + R", all, all, `
		n  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  a  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  b  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  c  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  pp p  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  p  d  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  s  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  ≠  u  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  e  ✗  ✗
		✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗
		✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗`},
	{"Differences", "L - R", all, all, `
		n  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  a  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  b  ≠  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  c  ≠  ≠  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  d  p  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  dp d  ≠  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  s  ≠  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  ≠  u  ≠  ✗  ✗
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  e  ✗  ✗
		✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗
		✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗`},
	{"Products", "L * R", all, all, `
		n    a    b    c    p*   d    s    u    e    ✗    ✗
		a    aa   c    aab  p*   ad   as   au   ae   ✗    ✗
		b    c    bb   abb  p*   bd   bs   bu   be   ✗    ✗
		c    aab  abb  aabb p*   abd  abs  abu  abe  ✗    ✗
		p*   p*   p*   p*   p*   p*   p*   p*   p*   ✗    ✗
		d    ad   bd   abd  p*   dd   ds   du   de   ✗    ✗
		s    as   bs   abs  p*   ds   ss   su   se   ✗    ✗
		u    au   bu   abu  p*   du   su   uu   ue   ✗    ✗
		e    ae   be   abe  p*   de   se   ue   ee   ✗    ✗
		✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗
		✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗    ✗`},
	{"Quotients", "L / R", all, all, `
		n   1/a 1/b 1/c p*  1/d 1/s 1/u 1/e ✗   ✗
		a   n   a/b 1/b p*  a/d a/s a/u a/e ✗   ✗
		b   b/a n   1/a p*  b/d b/s b/u b/e ✗   ✗
		c   b   a   n   p*  c/d c/s c/u c/e ✗   ✗
		p*  p*  p*  p*  p*  p*  p*  p*  p*  ✗   ✗
		d   d/a d/b d/c p*  n   d/s d/u d/e ✗   ✗
		s   s/a s/b s/c p*  s/d n   s/u s/e ✗   ✗
		u   u/a u/b u/c p*  u/d u/s n   u/e ✗   ✗
		e   e/a e/b e/c p*  e/d e/s e/u n   ✗   ✗
		✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗
		✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗   ✗`},
	{"Powers", "L ** R", all, "2 3 -1 0 0.5 n a p d y w", `
		n      n      n      n      n      n      ✗      ✗      ✗      ✗      ✗
		aa     aaa    1/a    n      **     **     ✗      ✗      ✗      ✗      ✗
		bb     bbb    1/b    n      **     **     ✗      ✗      ✗      ✗      ✗
		aabb   aaabbb 1/c    n      **     **     ✗      ✗      ✗      ✗      ✗
		p*     p*     p*     p*     p*     p*     p*     p*     p*     ✗      ✗
		dd     ddd    1/d    n      **     **     ✗      ✗      ✗      ✗      ✗
		ss     ss     1/s    n      **     **     ✗      ✗      ✗      ✗      ✗
		uu     uuu    1/u    n      **     **     ✗      ✗      ✗      ✗      ✗
		ee     eee    1/e    n      **     **     ✗      ✗      ✗      ✗      ✗
		✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗
		✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗      ✗`},
	{"Equality (and `!=`)", "L == R", all, all, `
		y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w=
		≠  y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w=
		≠  ≠  y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w=
		≠  ≠  ≠  y  ≠  ≠  ≠  ≠  ≠  ≠  w=
		≠  ≠  ≠  ≠  y  ≠  ≠  ≠  ≠  ≠  w=
		≠  ≠  ≠  ≠  ≠  y  ≠  ≠  ≠  ≠  w=
		≠  ≠  ≠  ≠  ≠  ≠  y  ≠  ≠  ≠  w=
		≠  ≠  ≠  ≠  ≠  ≠  ≠  y  ≠  ≠  w=
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  y  ≠  w=
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  y  wy
		w= w= w= w= w= w= w= w= w= wy y`},
	{"Order (`<`, `<=`, `>`, `>=`)", "L < R", all, all, `
		y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w<
		≠  y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w<
		≠  ≠  y  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w<
		≠  ≠  ≠  y  ≠  ≠  ≠  ≠  ≠  ≠  w<
		≠  ≠  ≠  ≠  y  ≠  ≠  ≠  ≠  ≠  w<
		≠  ≠  ≠  ≠  ≠  y  ≠  ≠  ≠  ≠  w<
		≠  ≠  ≠  ≠  ≠  ≠  y  ≠  ≠  ≠  w<
		≠  ≠  ≠  ≠  ≠  ≠  ≠  y  ≠  ≠  w<
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  y  ≠  w<
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ✗  w<
		w< w< w< w< w< w< w< w< w< w< w<`},
	{"And (and `or`)", "L and R", all, all, `
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ y ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗`},
	{"Signs", "L R", "- + not", all, `
		n  a  b  c  -p d  s  u  e  ✗  ✗
		n  a  b  c  p  d  s  u  e  ✗  ✗
		✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  ✗  y  ✗`},
	{"Branches", "y ? L : R", all, all, `
		n  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠
		≠  a  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠
		≠  ≠  b  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠
		≠  ≠  ≠  c  ≠  ≠  ≠  ≠  ≠  ≠  ≠
		≠  ≠  ≠  ≠  p  ≠  ≠  ≠  ≠  ≠  ≠
		≠  ≠  ≠  ≠  ≠  d  ≠  ≠  ≠  ≠  ≠
		≠  ≠  ≠  ≠  ≠  ≠  s  ≠  ≠  ≠  ≠
		≠  ≠  ≠  ≠  ≠  ≠  ≠  u  ≠  ≠  ≠
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  e  ≠  ≠
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  y  ≠
		≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  ≠  w`},
	{"Conditions", "L ? R : R", all, "n a", `
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		✗ ✗
		n a
		✗ ✗`},
	{"Let", "let x = L; x R", all, "+x *x ==x", `
		n    n    y
		a    aa   y
		b    bb   y
		c    aabb y
		pp   p*   y
		d    dd   y
		s    ss   y
		u    uu   y
		e    ee   y
		✗    ✗    y
		✗    ✗    y`},
	{"Functions of one value", "L(R)", "abs sqrt exp exp2 log log2 log10 floor ceil kelvin stops ratio", all + " c*c a*a/b/b", `
		n     a     b     c     -p    d     s     u     e     ✗     ✗     aabb  aa/bb
		n     √     √     √     √     √     √     √     √     ✗     ✗     c     a/b
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		✗     ✗     ✗     ✗     n     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		s     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗     ✗
		✗     ✗     ✗     ✗     ✗     ✗     n     ✗     ✗     ✗     ✗     ✗     ✗`},
	{"Smallest, largest, mean, clamp", "min(L, R)", all, all, `
		n ≠ ≠ ≠ ≠ ≠ ≠ ≠ ≠ ✗ ✗
		≠ a ≠ ≠ ≠ ≠ ≠ ≠ ≠ ✗ ✗
		≠ ≠ b ≠ ≠ ≠ ≠ ≠ ≠ ✗ ✗
		≠ ≠ ≠ c ≠ ≠ ≠ ≠ ≠ ✗ ✗
		≠ ≠ ≠ ≠ p ≠ ≠ ≠ ≠ ✗ ✗
		≠ ≠ ≠ ≠ ≠ d ≠ ≠ ≠ ✗ ✗
		≠ ≠ ≠ ≠ ≠ ≠ s ≠ ≠ ✗ ✗
		≠ ≠ ≠ ≠ ≠ ≠ ≠ u ≠ ✗ ✗
		≠ ≠ ≠ ≠ ≠ ≠ ≠ ≠ e ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗`},
	{"Rounding to a step", "round(L, R)", all, all, `
		n ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ a ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ b ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ c ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ p ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ d ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ s ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ u ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ e ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗
		✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗ ✗`},
}
