//! Elementary functions that give the same bits on every platform and in a page. Those of the standard library are the system's
//! own, whose last bit differs from one to the next; these are one text everywhere, a port of musl's (crate `libm`). Square roots,
//! rounding and plain arithmetic are exact by IEEE 754 and stay what they are. `.clippy.toml` forbids the others.

use nalgebra::Complex;

/// Functions of a real number whose last bit is the same everywhere.
pub trait Portable {
    /// eˣ.
    fn exponential(self) -> Self;
    /// eˣ − 1, exact near zero.
    fn exponential_less_one(self) -> Self;
    /// ln x.
    fn logarithm(self) -> Self;
    /// ln(1 + x), exact near zero.
    fn logarithm_beside_one(self) -> Self;
    /// log₁₀ x.
    fn decimal_logarithm(self) -> Self;
    /// log₂ x.
    fn binary_logarithm(self) -> Self;
    /// xʸ.
    fn power(self, exponent: Self) -> Self;
    /// xⁿ for a whole n, by repeated squaring.
    fn to_the(self, exponent: i32) -> Self;
    /// sin x.
    fn sine(self) -> Self;
    /// cos x.
    fn cosine(self) -> Self;
    /// tan x.
    fn tangent(self) -> Self;
    /// Both sin x and cos x.
    fn sine_and_cosine(self) -> (Self, Self)
    where
        Self: Sized;
    /// Angle of the point whose height is this number and whose distance along the axis is the other.
    fn angle_over(self, along: Self) -> Self;
    /// ∛x.
    fn cube_root(self) -> Self;
    /// √(x² + y²).
    fn length_with(self, other: Self) -> Self;
}

impl Portable for f64 {
    #[inline]
    fn exponential(self) -> f64 {
        libm::exp(self)
    }
    #[inline]
    fn exponential_less_one(self) -> f64 {
        libm::expm1(self)
    }
    #[inline]
    fn logarithm(self) -> f64 {
        libm::log(self)
    }
    #[inline]
    fn logarithm_beside_one(self) -> f64 {
        libm::log1p(self)
    }
    #[inline]
    fn decimal_logarithm(self) -> f64 {
        libm::log10(self)
    }
    #[inline]
    fn binary_logarithm(self) -> f64 {
        libm::log2(self)
    }
    #[inline]
    fn power(self, exponent: f64) -> f64 {
        libm::pow(self, exponent)
    }
    #[inline(always)]
    fn to_the(self, exponent: i32) -> f64 {
        let (mut base, mut left, mut result) = (self, exponent.unsigned_abs(), 1.0);
        while left > 0 {
            if left & 1 == 1 {
                result *= base;
            }
            left >>= 1;
            if left > 0 {
                base *= base;
            }
        }
        if exponent < 0 { 1.0 / result } else { result }
    }
    #[inline]
    fn sine(self) -> f64 {
        libm::sin(self)
    }
    #[inline]
    fn cosine(self) -> f64 {
        libm::cos(self)
    }
    #[inline]
    fn tangent(self) -> f64 {
        libm::tan(self)
    }
    #[inline]
    fn sine_and_cosine(self) -> (f64, f64) {
        libm::sincos(self)
    }
    #[inline]
    fn angle_over(self, along: f64) -> f64 {
        libm::atan2(self, along)
    }
    #[inline]
    fn cube_root(self) -> f64 {
        libm::cbrt(self)
    }
    #[inline]
    fn length_with(self, other: f64) -> f64 {
        libm::hypot(self, other)
    }
}

/// The same of a complex number.
pub trait PortableComplex {
    /// |z|.
    fn length(self) -> f64;
    /// Angle of z, from −π to π.
    fn angle(self) -> f64;
    /// eᶻ.
    fn exponential(self) -> Self;
    /// √z with a real part that is not negative.
    fn root(self) -> Self;
}

impl PortableComplex for Complex<f64> {
    #[inline]
    fn length(self) -> f64 {
        libm::hypot(self.re, self.im)
    }
    #[inline]
    fn angle(self) -> f64 {
        libm::atan2(self.im, self.re)
    }
    #[inline]
    fn exponential(self) -> Self {
        let (sine, cosine) = libm::sincos(self.im);
        let size = libm::exp(self.re);
        Complex::new(size * cosine, size * sine)
    }
    /// With |z| = r: √((r + |x|)/2), and y over twice that, so that neither part is a difference of near numbers.
    #[inline]
    fn root(self) -> Self {
        let larger = (0.5 * (self.length() + self.re.abs())).sqrt();
        if larger == 0.0 {
            return Complex::new(0.0, 0.0);
        }
        let smaller = 0.5 * self.im.abs() / larger;
        let (re, im) = if self.re >= 0.0 { (larger, smaller) } else { (smaller, larger) };
        Complex::new(re, im.copysign(self.im))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Identities that hold to the last digits, whoever computes the functions.
    #[test]
    fn functions_are_what_they_are_called() {
        let near = |a: f64, b: f64| assert!((a - b).abs() <= 1e-14 * b.abs().max(1.0), "{a} is not {b}");
        for x in [0.003, 0.7, 1.9, 40.0] {
            near(x.logarithm().exponential(), x);
            near(x.power(0.3), (0.3 * x.logarithm()).exponential());
            near(x.to_the(5), x * x * x * x * x);
            near(x.to_the(-2), 1.0 / (x * x));
            near(x.to_the(0), 1.0);
            near(x.decimal_logarithm(), x.logarithm() / std::f64::consts::LN_10);
            near(x.binary_logarithm(), x.logarithm() / std::f64::consts::LN_2);
            near(x.sine() / x.cosine(), x.tangent());
            near(x.sine().length_with(x.cosine()), 1.0);
            assert_eq!(x.sine_and_cosine(), (x.sine(), x.cosine()));
            near(x.cube_root().to_the(3), x);
            near((1e-9 * x).exponential_less_one().logarithm_beside_one() / (1e-9 * x), 1.0);
            near(x.sine().angle_over(x.cosine()).cosine(), x.cosine());
        }
    }

    #[test]
    fn complex_functions_are_what_they_are_called() {
        for (re, im) in [(3.0, 4.0), (-3.0, 4.0), (-3.0, -4.0), (0.0, -2.0), (-9.0, 0.0), (-9.0, -0.0), (1e-9, 1.0)] {
            let z = Complex::new(re, im);
            let root = z.root();
            assert!((root * root - z).length() <= 1e-15 * z.length(), "{z}: {root}");
            assert!(root.re >= 0.0 && root.im.is_sign_negative() == z.im.is_sign_negative(), "{z}: {root}");
            let back = Complex::new(z.length() * z.angle().cosine(), z.length() * z.angle().sine());
            assert!((back - z).length() <= 1e-15 * z.length(), "{z}: {back}");
            let sum = PortableComplex::exponential(z) * PortableComplex::exponential(-z);
            assert!((sum - Complex::new(1.0, 0.0)).length() < 1e-13, "{z}: {sum}");
        }
        assert_eq!(Complex::new(0.0, 0.0).root(), Complex::new(0.0, 0.0));
    }
}
