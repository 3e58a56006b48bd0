//! What the geometry cannot make, as findings.

use super::Finding;
use crate::fields::{FieldId, Slot};
use crate::pair::NoCommonBand;
use crate::solid::SolidError;
use crate::units::Quantity;

impl From<NoCommonBand> for Finding {
    fn from(error: NoCommonBand) -> Self {
        let NoCommonBand { outside, begins_mm, ends_mm } = error;
        Self::error("no_common_band")
            .at(Slot::Ring(outside, FieldId::InnerDiameter))
            .says(
                format!(
                    "The dogs of {} begin at {{}}, but those of {} end at {{}}: the rings never touch.",
                    outside.name(),
                    outside.other().name()
                ),
                &[begins_mm, ends_mm].map(|mm| (Quantity::Length, mm)),
            )
            .hint("Check the inner and outer diameters of both rings; they must share a band.")
    }
}

impl From<SolidError> for Finding {
    fn from(error: SolidError) -> Self {
        match error {
            SolidError::Length { mm, limits_mm: [least, most] } => Self::error("solid_length")
                .says(
                    "No solid: radii, radial length of the dogs and web need from {} to {}, and one is {}.",
                    &[least, most, mm].map(|mm| (Quantity::Length, mm)),
                )
                .hint("Give the web something to reach inside and outside the dogs, and a thickness."),
            SolidError::BoreVanishes { inside_mm, radius_mm, least_mm } => Self::error("bore_vanishes")
                .says(
                    "No solid: a web that reaches {} inside the dogs leaves a bore of radius {}, less than {}.",
                    &[inside_mm, radius_mm, least_mm].map(|mm| (Quantity::Length, mm)),
                )
                .hint("Let the web reach less far inside the dogs."),
            SolidError::NoDog => Self::error("solid_without_dog")
                .says("No solid: no dog stands on this ring.", &[])
                .hint("Keep at least one dog."),
            SolidError::DogWithoutRoot { place, thin_mm, least_mm } => Self::error("solid_dog_without_root")
                .says(
                    format!("No solid: dog {} comes down to {{}}, less than {{}}.", place + 1),
                    &[thin_mm, least_mm].map(|mm| (Quantity::Length, mm)),
                )
                .hint("Use less back-cut, a wider dog or a lower one."),
            SolidError::DogsTouch { places, gap_mm, least_mm } => {
                let [this, next] = places.map(|place| place + 1);
                Self::error("solid_dogs_touch")
                    .says(
                        format!("No solid: the gap from dog {this} to dog {next} is {{}}, less than {{}}."),
                        &[gap_mm, least_mm].map(|mm| (Quantity::Length, mm)),
                    )
                    .hint("Use fewer or narrower dogs, or less taper.")
            }
            SolidError::FlankAlongBore { short, least } => Self::error("solid_flank_along_bore")
                .says(
                    "No solid: a flank comes within {} of running along the bore where it meets it; {} are needed.",
                    &[short, least].map(|angle| (Quantity::Angle, angle.degrees())),
                )
                .hint("Use a narrower dog or a larger inner diameter."),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::Side;
    use crate::units::{Angle, DisplayUnits};

    #[test]
    fn every_error_has_a_sentence_with_its_numbers_and_a_hint() {
        let (outside, begins_mm, ends_mm) = (Side::B, 70.0, 60.0);
        let (thin_mm, gap_mm, least_mm) = (2e-5, -0.25, 1e-4);
        let [short, least] = [0.5, 1.0].map(Angle::from_degrees);
        let findings = [
            (
                NoCommonBand { outside, begins_mm, ends_mm }.into(),
                "Ring B begin at 70 mm, but those of Ring A end",
            ),
            (
                SolidError::Length { mm: 0.05, limits_mm: [0.1, 1e4] }.into(),
                "from 0.1 mm to 10000 mm, and one is 0.05 mm",
            ),
            (
                SolidError::BoreVanishes { inside_mm: 18.0, radius_mm: 4.0, least_mm: 4.4 }.into(),
                "18 mm inside the dogs leaves a bore of radius 4 mm",
            ),
            (SolidError::NoDog.into(), "no dog"),
            (SolidError::DogWithoutRoot { place: 2, thin_mm, least_mm }.into(), "dog 3 comes down"),
            (
                SolidError::DogsTouch { places: [5, 0], gap_mm, least_mm }.into(),
                "from dog 6 to dog 1 is -0.25 mm",
            ),
            (SolidError::FlankAlongBore { short, least }.into(), "within 0.5° of running along"),
        ];
        for (finding, words) in findings as [(Finding, &str); 7] {
            let text = finding.text(DisplayUnits::default());
            assert!(text.contains(words) && !text.contains("{}"), "{text}");
            assert!(finding.hint.ends_with('.'), "{text}");
        }
    }
}
