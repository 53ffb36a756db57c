//! Seeded chance: the same evidence gives the same draws on any machine.
//!
//! Normal deviates are made here with `libm` (Box and Muller 1958) rather than taken from a
//! distribution library, because such a library calls the platform's logarithm as soon as any other
//! dependency switches the standard library on, and platforms differ in the last digit.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// A stream of random numbers that depends on its seed alone.
pub struct Chance {
    stream: ChaCha8Rng,
    spare: Option<f64>,
}

impl Chance {
    /// The stream of `seed`.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self { stream: ChaCha8Rng::seed_from_u64(seed), spare: None }
    }

    /// Uniform between 0 and 1, never either.
    pub fn uniform(&mut self) -> f64 {
        const STEP: f64 = 1.0 / 9_007_199_254_740_992.0;
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
        let whole = (self.stream.next_u64() >> 11) as f64;
        (whole + 0.5) * STEP
    }

    /// Standard normal.
    pub fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let radius = (-2.0 * libm::log(self.uniform())).sqrt();
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * self.uniform());
        self.spare = Some(radius * sin);
        radius * cos
    }

    /// What a normal deviate is multiplied by to become Student's t: √(ν / χ²). One for normal tails.
    pub fn stretch(&mut self, tails: Option<u32>) -> f64 {
        let Some(freedom) = tails else { return 1.0 };
        // A χ² of two degrees of freedom is −2 ln u; one logarithm serves several.
        let mut chi_squared = 0.0;
        let mut product = 1.0;
        for pair in 1..=freedom / 2 {
            product *= self.uniform();
            if pair % 16 == 0 || pair == freedom / 2 {
                chi_squared -= 2.0 * libm::log(product);
                product = 1.0;
            }
        }
        if freedom % 2 == 1 {
            let normal = self.normal();
            chi_squared += normal * normal;
        }
        (f64::from(freedom) / chi_squared).sqrt()
    }
}

/// Fowler-Noll-Vo hash (FNV-1a, 64 bit): stable over machines and releases, unlike the standard one.
pub struct Fingerprint(u64);

impl Default for Fingerprint {
    fn default() -> Self {
        Self::new()
    }
}

impl Fingerprint {
    /// Of nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }

    /// Takes bytes in.
    pub fn bytes(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }

    /// Takes a number in.
    pub fn number(&mut self, value: f64) {
        // Minus zero is the same evidence as zero.
        self.bytes(&(value + 0.0).to_bits().to_le_bytes());
    }

    /// Takes a whole number in.
    pub fn whole(&mut self, value: u64) {
        self.bytes(&value.to_le_bytes());
    }

    /// The hash of all that was taken in.
    #[must_use]
    pub fn finish(self) -> u64 {
        self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fingerprint_is_fnv_1a() {
        // Published test vectors of FNV-1a 64 (draft-eastlake-fnv, appendix C), from memory.
        for (text, hash) in
            [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
        {
            let mut print = Fingerprint::new();
            print.bytes(text.as_bytes());
            assert_eq!(print.finish(), hash, "{text}");
        }
    }

    #[test]
    fn deviates_have_the_moments_of_their_law() {
        let mut chance = Chance::new(7);
        let n = 200_000;
        let (mut mean, mut square, mut fourth, mut t_square) = (0.0, 0.0, 0.0, 0.0);
        for _ in 0..n {
            let z = chance.normal();
            mean += z;
            square += z * z;
            fourth += z * z * z * z;
            let t = chance.normal() * chance.stretch(Some(9));
            t_square += t * t;
        }
        let n = f64::from(n);
        // Four standard errors: mean 1/√n, square √2/√n, fourth √96/√n; variance of t is ν/(ν−2).
        assert!((mean / n).abs() < 4.0 / n.sqrt());
        assert!((square / n - 1.0).abs() < 4.0 * (2.0 / n).sqrt());
        assert!((fourth / n - 3.0).abs() < 4.0 * (96.0 / n).sqrt());
        assert!((t_square / n - 9.0 / 7.0).abs() < 0.03);
    }
}
