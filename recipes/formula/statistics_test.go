package formula

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Certified values of the Statistical Reference Datasets of NIST, univariate summary
// statistics (www.itl.nist.gov/div898/strd/univ): mean and deviation of a sample. The data
// were taken from public copies of the files, since those themselves could not be fetched.
func TestCertifiedDeviations(t *testing.T) {
	// the first of 1001 readings is alone, then a pair comes 500 times
	built := func(first, low, high string) string { return first + strings.Repeat(" "+low+" "+high, 500) }
	for _, c := range []struct {
		name, data string
		mean, dev  float64
		// digits are how many a float can hold of the deviation: the readings of the last two
		// are themselves rounded in their tenth and ninth place after the first digit
		digits float64
	}{
		{"Michelso", michelso, 299.852400000000, 0.0790105478190518, 12},
		{"Mavro", mavro, 2.00185600000000, 0.000429123454003053, 12},
		{"Lottery", lottery, 518.958715596330, 291.699727470969, 14},
		{"NumAcc1", "10000001 10000003 10000002", 10000002, 1, 15},
		{"NumAcc2", built("1.2", "1.1", "1.3"), 1.2, 0.1, 14},
		{"NumAcc3", built("1000000.2", "1000000.1", "1000000.3"), 1000000.2, 0.1, 9},
		{"NumAcc4", built("10000000.2", "10000000.1", "10000000.3"), 10000000.2, 0.1, 8},
	} {
		var cells []float64
		for _, text := range strings.Fields(c.data) {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			cells = append(cells, v)
		}
		if mean := meanOf(cells); math.Abs(mean/c.mean-1) > 1e-14 {
			t.Errorf("%s: the mean is %.17g, certified %.17g", c.name, mean, c.mean)
		}
		if dev := deviationOf(cells); math.Abs(dev/c.dev-1) > math.Pow(10, -c.digits) {
			t.Errorf("%s: the deviation is %.17g, certified %.17g", c.name, dev, c.dev)
		}
	}
}

const (
	michelso = `299.85 299.74 299.90 300.07 299.93 299.85 299.95 299.98 299.98 299.88 300.00 299.98 299.93 299.65 299.76 299.81
		300.00 300.00 299.96 299.96 299.96 299.94 299.96 299.94 299.88 299.80 299.85 299.88 299.90 299.84 299.83 299.79
		299.81 299.88 299.88 299.83 299.80 299.79 299.76 299.80 299.88 299.88 299.88 299.86 299.72 299.72 299.62 299.86
		299.97 299.95 299.88 299.91 299.85 299.87 299.84 299.84 299.85 299.84 299.84 299.84 299.89 299.81 299.81 299.82
		299.80 299.77 299.76 299.74 299.75 299.76 299.91 299.92 299.89 299.86 299.88 299.72 299.84 299.85 299.85 299.78
		299.89 299.84 299.78 299.81 299.76 299.81 299.79 299.81 299.82 299.85 299.87 299.87 299.81 299.74 299.81 299.94
		299.95 299.80 299.81 299.87`
	mavro = `2.00180 2.00170 2.00180 2.00190 2.00180 2.00170 2.00150 2.00140 2.00150 2.00150 2.00170 2.00180 2.00180 2.00190
		2.00190 2.00210 2.00200 2.00160 2.00140 2.00130 2.00130 2.00150 2.00150 2.00160 2.00150 2.00140 2.00130 2.00140
		2.00150 2.00140 2.00150 2.00160 2.00150 2.00160 2.00190 2.00200 2.00200 2.00210 2.00220 2.00230 2.00240 2.00250
		2.00270 2.00260 2.00260 2.00260 2.00270 2.00260 2.00250 2.00240`
	lottery = `162 671 933 414 788 730 817 33 536 875 670 236 473 167 877 980 316 950 456 92 517 557 956 954 104 178 794 278
		147 773 437 435 502 610 582 780 689 562 964 791 28 97 848 281 858 538 660 972 671 613 867 448 738 966 139 636 847
		659 754 243 122 455 195 968 793 59 730 361 574 522 97 762 431 158 429 414 22 629 788 999 187 215 810 782 47 34 108
		986 25 644 829 630 315 567 919 331 207 412 242 607 668 944 749 168 864 442 533 805 372 63 458 777 416 340 436 140
		919 350 510 572 905 900 85 389 473 758 444 169 625 692 140 897 672 288 312 860 724 226 884 508 976 741 476 417 831
		15 318 432 241 114 799 955 833 358 935 146 630 830 440 642 356 373 271 715 367 393 190 669 8 861 108 795 269 590
		326 866 64 523 862 840 219 382 998 4 628 305 747 247 34 747 729 645 856 974 24 568 24 694 608 480 410 729 947 293
		53 930 223 203 677 227 62 455 387 318 562 242 428 968`
)
