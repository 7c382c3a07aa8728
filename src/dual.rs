//! One right-hand side, two kinds of number: plain `f64`, and dual numbers that carry exact derivatives.
//!
//! A dual number is a value together with its partial derivatives; arithmetic on it applies the chain rule, so that one
//! evaluation of an equation yields its result and its exact Jacobian row (forward-mode automatic differentiation:
//! R. E. Wengert, "A simple automatic derivative evaluation program", Communications of the ACM 7 (1964) 463-464,
//! cited from memory).

use crate::portable::Portable;
use std::ops::{Add, Mul, Neg, Sub};

/// A number that the equations can be written in.
pub trait Real:
    Copy
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
{
    /// A number whose derivatives are all zero.
    fn constant(value: f64) -> Self;
    /// The value without its derivatives.
    fn value(&self) -> f64;
    /// Apply a function of one variable, given its value and its slope at `self.value()`.
    fn chain(self, value: f64, slope: f64) -> Self;

    /// 1/self.
    #[inline(always)]
    fn recip(self) -> Self {
        let r = 1.0 / self.value();
        self.chain(r, -r * r)
    }
    /// Square root; at zero the slope is taken as zero.
    #[inline(always)]
    fn sqrt(self) -> Self {
        let s = self.value().sqrt();
        self.chain(s, if s > 0.0 { 0.5 / s } else { 0.0 })
    }
    /// |self|, slope taken as +1 at zero.
    #[inline(always)]
    fn abs(self) -> Self {
        if self.value() < 0.0 { -self } else { self }
    }
    /// self².
    #[inline(always)]
    fn square(self) -> Self {
        self * self
    }
    /// self if positive, else zero.
    #[inline(always)]
    fn positive_part(self) -> Self {
        if self.value() > 0.0 { self } else { Self::constant(0.0) }
    }
    /// The smaller of two numbers.
    #[inline(always)]
    fn least(self, other: Self) -> Self {
        if self.value() <= other.value() { self } else { other }
    }
    /// self^exponent for a positive base.
    #[inline(always)]
    fn raised(self, exponent: f64) -> Self {
        let p = self.value().power(exponent);
        self.chain(p, exponent * p / self.value())
    }
}

impl Real for f64 {
    #[inline(always)]
    fn constant(value: f64) -> f64 {
        value
    }
    #[inline(always)]
    fn value(&self) -> f64 {
        *self
    }
    #[inline(always)]
    fn chain(self, value: f64, _slope: f64) -> f64 {
        value
    }
}

/// A value with `P` partial derivatives. A `P` that is a multiple of four lets the compiler use wide registers.
#[derive(Clone, Copy, Debug)]
#[repr(align(32))]
pub struct Dual<const P: usize> {
    /// Partial derivatives.
    pub slope: [f64; P],
    /// Value.
    pub value: f64,
}

impl<const P: usize> Dual<P> {
    /// The independent variable number `index`.
    #[inline]
    pub fn variable(value: f64, index: usize) -> Self {
        let mut slope = [0.0; P];
        slope[index] = 1.0;
        Dual { slope, value }
    }
    #[inline(always)]
    fn map2(self, other: Self, value: f64, by_self: f64, by_other: f64) -> Self {
        let mut slope = self.slope;
        for (mine, its) in slope.iter_mut().zip(&other.slope) {
            *mine = *mine * by_self + its * by_other;
        }
        Dual { slope, value }
    }
}

impl<const P: usize> Add for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn add(mut self, other: Self) -> Self {
        for i in 0..P {
            self.slope[i] += other.slope[i];
        }
        self.value += other.value;
        self
    }
}

impl<const P: usize> Sub for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn sub(mut self, other: Self) -> Self {
        for i in 0..P {
            self.slope[i] -= other.slope[i];
        }
        self.value -= other.value;
        self
    }
}

impl<const P: usize> Mul for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        self.map2(other, self.value * other.value, other.value, self.value)
    }
}

impl<const P: usize> Neg for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn neg(self) -> Self {
        self.chain(-self.value, -1.0)
    }
}

impl<const P: usize> Add<f64> for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn add(mut self, other: f64) -> Self {
        self.value += other;
        self
    }
}

impl<const P: usize> Sub<f64> for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn sub(mut self, other: f64) -> Self {
        self.value -= other;
        self
    }
}

impl<const P: usize> Mul<f64> for Dual<P> {
    type Output = Self;
    #[inline(always)]
    fn mul(self, factor: f64) -> Self {
        self.chain(self.value * factor, factor)
    }
}

impl<const P: usize> Real for Dual<P> {
    #[inline(always)]
    fn constant(value: f64) -> Self {
        Dual { slope: [0.0; P], value }
    }
    #[inline(always)]
    fn value(&self) -> f64 {
        self.value
    }
    #[inline(always)]
    fn chain(mut self, value: f64, slope: f64) -> Self {
        for s in &mut self.slope {
            *s *= slope;
        }
        self.value = value;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// d/dx and d/dy of √(x·y + 3)/y − |x|^1.5 by hand.
    #[test]
    fn derivatives_agree_with_those_by_hand() {
        let (x0, y0) = (2.0_f64, 5.0_f64);
        let x = Dual::<4>::variable(x0, 0);
        let y = Dual::<4>::variable(y0, 1);
        let f = (x * y + 3.0).sqrt() * y.recip() - x.abs().raised(1.5);
        let root = (x0 * y0 + 3.0).sqrt();
        assert!((f.value - (root / y0 - x0.power(1.5))).abs() < 1e-14);
        assert!((f.slope[0] - (0.5 / root - 1.5 * x0.sqrt())).abs() < 1e-14);
        assert!((f.slope[1] - (0.5 * x0 / root / y0 - root / (y0 * y0))).abs() < 1e-14);
        assert_eq!(f.slope[2], 0.0);
    }
}
