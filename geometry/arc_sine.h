// The arc sine of up to 1/sqrt 2 as a polynomial, for loops that the compiler is to vectorise.
//
//   asin x = x + x t R(t),  t = x^2 <= 1/2;   R of degree 17, best in the relative error of asin (Remez' exchange in 60 digits)
// The polynomial itself is within 1.6e-17 of asin, with rounding within 1 ulp; larger arguments go by
// asin x = pi/2 - asin sqrt(1 - x^2), of which the caller has the root (tests/geometry/pose_batch_test.cpp).
#pragma once

namespace hitchwright {

/// asin(x) in rad for |x| <= sqrt(1/2); `squared` is x^2, which callers often have before x.
inline double find_arc_sine(double x, double squared) {
    // Even and odd powers apart: two chains of half the length. Written out, since a loop would not be unrolled in time.
    const double t = squared, t2 = t * t;
    double even = -0x1.b508d92b09f00p+1, odd = 0x1.d6e8daa8ef69cp-1;
    even = even * t2 - 0x1.a46ea92a03bf8p+2, odd = odd * t2 + 0x1.82246bedd5d19p+2;
    even = even * t2 - 0x1.54911107fa93ap+1, odd = odd * t2 + 0x1.3b44076c3ceddp+2;
    even = even * t2 - 0x1.4967dfbd32595p-2, odd = odd * t2 + 0x1.15492f16d58c0p+0;
    even = even * t2 - 0x1.eded81b890992p-9, odd = odd * t2 + 0x1.5bd1bbed5333fp-4;
    even = even * t2 + 0x1.c3c2dbafae662p-7, odd = odd * t2 + 0x1.b59b3cc9d7861p-7;
    even = even * t2 + 0x1.6e88fa4c9435fp-6, odd = odd * t2 + 0x1.1c8430c53b6fcp-6;
    even = even * t2 + 0x1.6db6db35d4242p-5, odd = odd * t2 + 0x1.f1c732b50cc3ap-6;
    even = even * t2 + 0x1.5555555555353p-3, odd = odd * t2 + 0x1.333333337aa45p-4;
    return x + x * (t * (even + t * odd));
}

}  // namespace hitchwright
