//! Points and directions in space.

use std::ops::{Add, Mul, Neg, Sub};

/// A point in mm, or a direction.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Vec3 {
    /// To the right.
    pub x: f64,
    /// Up.
    pub y: f64,
    /// Towards the reader, along the shaft.
    pub z: f64,
}

impl Vec3 {
    /// Along the shaft, out of the dogs.
    pub const UP: Self = Self::new(0.0, 0.0, 1.0);

    /// From its coordinates.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }

    /// From radius, angle in radians and height.
    pub fn polar(radius: f64, angle: f64, z: f64) -> Self {
        Self { x: radius * libm::cos(angle), y: radius * libm::sin(angle), z }
    }

    /// Scalar product.
    pub const fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    /// Vector product.
    #[must_use]
    pub const fn cross(self, other: Self) -> Self {
        Self {
            x: self.y * other.z - self.z * other.y,
            y: self.z * other.x - self.x * other.z,
            z: self.x * other.y - self.y * other.x,
        }
    }

    /// Its length.
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction as a vector of length 1; zero for a vector without length.
    #[must_use]
    pub fn unit(self) -> Self {
        let length = self.length();
        if length > 0.0 { self * (1.0 / length) } else { Self::default() }
    }
}

impl Add for Vec3 {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Vec3 {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Neg for Vec3 {
    type Output = Self;
    fn neg(self) -> Self {
        Self::new(-self.x, -self.y, -self.z)
    }
}

impl Mul<f64> for Vec3 {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.x * factor, self.y * factor, self.z * factor)
    }
}
