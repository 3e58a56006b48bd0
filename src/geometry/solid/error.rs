//! Why a ring on a web is not one solid.

use std::error::Error;
use std::fmt;

use crate::units::Angle;

/// What keeps a ring on its web from being one sound piece of metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SolidError {
    /// A radius, the radial length of the dogs or a length of the web is outside the limits.
    Length {
        /// The length, mm.
        mm: f64,
        /// Least and greatest length, mm.
        limits_mm: [f64; 2],
    },
    /// The web reaches so far inside the dogs that hardly any bore is left.
    BoreVanishes {
        /// How far the web reaches inside the dogs, mm.
        inside_mm: f64,
        /// Radius of the bore that is left, mm.
        radius_mm: f64,
        /// Least radius of the bore, mm.
        least_mm: f64,
    },
    /// The ring has no dog.
    NoDog,
    /// A dog has no metal between its tip and its root.
    DogWithoutRoot {
        /// The place of the dog, from 0.
        place: usize,
        /// How thin the dog is at its thinnest, mm.
        thin_mm: f64,
        /// How thick it has to be, mm.
        least_mm: f64,
    },
    /// Two dogs touch, at their roots or above.
    DogsTouch {
        /// The places of both dogs, from 0.
        places: [usize; 2],
        /// The gap between them, mm; minus where they run into each other.
        gap_mm: f64,
        /// How wide it has to be, mm.
        least_mm: f64,
    },
    /// A flank runs along the bore instead of across the ring.
    FlankAlongBore {
        /// How far the flank is from running along the bore.
        short: Angle,
        /// How far it has to be.
        least: Angle,
    },
}

impl fmt::Display for SolidError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::Length { mm, limits_mm: [least, most] } => {
                write!(f, "a length of ring or web is {mm} mm, outside {least} mm to {most} mm")
            }
            Self::BoreVanishes { radius_mm, least_mm, .. } => {
                write!(f, "the bore has a radius of {radius_mm} mm, less than {least_mm} mm")
            }
            Self::NoDog => write!(f, "the ring has no dog"),
            Self::DogWithoutRoot { place, thin_mm, least_mm } => {
                write!(f, "the dog at place {place} is {thin_mm} mm thin, less than {least_mm} mm")
            }
            Self::DogsTouch { places: [this, next], gap_mm, least_mm } => {
                write!(
                    f,
                    "the dogs at places {this} and {next} are {gap_mm} mm apart, less than {least_mm} mm"
                )
            }
            Self::FlankAlongBore { short, least } => {
                let [short, least] = [short, least].map(Angle::degrees);
                write!(
                    f,
                    "a flank is within {short}° of running along the bore, less than {least}°"
                )
            }
        }
    }
}

impl Error for SolidError {}
