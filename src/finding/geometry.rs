//! What the geometry cannot make or read, as findings.

use crenel_words::finding as say;

use super::Finding;
use crate::fields::{FieldId, Slot};
use crate::pair::NoCommonBand;
use crate::solid::SolidError;
use crate::units::{ParseError, Quantity};

impl From<NoCommonBand> for Finding {
    fn from(error: NoCommonBand) -> Self {
        let NoCommonBand { outside, begins_mm, ends_mm } = error;
        Self::error(say::no_common_band(outside, begins_mm, outside.other(), ends_mm))
            .at(Slot::Ring(outside, FieldId::InnerDiameter))
    }
}

impl From<SolidError> for Finding {
    fn from(error: SolidError) -> Self {
        Self::error(match error {
            SolidError::Length { mm, limits_mm: [least, most] } => {
                say::solid_length(least, most, mm)
            }
            SolidError::BoreVanishes { inside_mm, radius_mm, least_mm } => {
                say::bore_vanishes(inside_mm, radius_mm, least_mm)
            }
            SolidError::NoDog => say::solid_without_dog(),
            SolidError::DogWithoutRoot { place, thin_mm, least_mm } => {
                say::solid_dog_without_root(place, thin_mm, least_mm)
            }
            SolidError::DogsTouch { places: [this, next], gap_mm, least_mm } => {
                say::solid_dogs_touch(this, next, gap_mm, least_mm)
            }
            SolidError::FlankAlongBore { short, least } => {
                say::solid_flank_along_bore(short.degrees(), least.degrees())
            }
        })
    }
}

impl From<ParseError> for Finding {
    fn from(error: ParseError) -> Self {
        Self::error(match error {
            ParseError::Empty => say::nothing_typed(),
            ParseError::NotANumber(typed) => say::typed_no_number(typed),
            ParseError::TwoSeparators(typed) => say::typed_two_separators(typed),
            ParseError::WrongUnit { typed, quantity, unit } => {
                let kind = match quantity {
                    Quantity::Length => "length",
                    Quantity::Angle => "angle",
                    _ if unit.is_empty() => "number",
                    _ => "other",
                };
                say::typed_wrong_unit(typed, kind, unit.to_owned())
            }
            ParseError::BadSexagesimal(typed) => say::typed_bad_angle(typed),
            ParseError::Feet(typed) => say::typed_feet(typed),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::Side;
    use crate::units::Angle;
    use crenel_words::Reader;

    #[test]
    fn every_error_has_a_sentence_with_its_numbers_and_a_hint() {
        let (outside, begins_mm, ends_mm) = (Side::B, 70.0, 60.0);
        let (thin_mm, gap_mm, least_mm) = (2e-5, -0.25, 1e-4);
        let [short, least] = [0.5, 1.0].map(Angle::from_degrees);
        let findings = [
            (
                NoCommonBand { outside, begins_mm, ends_mm }.into(),
                "ring B begin at 70 mm and those of ring A end at 60 mm",
            ),
            (
                SolidError::Length { mm: 0.05, limits_mm: [0.1, 1e4] }.into(),
                "from 0.1 mm to 10\u{202f}000 mm, and one is 0.05 mm",
            ),
            (
                SolidError::BoreVanishes { inside_mm: 18.0, radius_mm: 4.0, least_mm: 4.4 }.into(),
                "18 mm inside the dogs leaves a bore of radius 4 mm",
            ),
            (SolidError::NoDog.into(), "no dogs"),
            (SolidError::DogWithoutRoot { place: 2, thin_mm, least_mm }.into(), "dog 3 is only"),
            (
                SolidError::DogsTouch { places: [5, 0], gap_mm, least_mm }.into(),
                "from dog 6 to dog 1 is −0.25 mm",
            ),
            (SolidError::FlankAlongBore { short, least }.into(), "at only 0.5°"),
        ];
        for (finding, words) in findings as [(Finding, &str); 7] {
            let text = finding.text(Reader::default());
            assert!(text.contains(words) && !text.contains("{}"), "{text}");
            assert!(finding.hint(Reader::default()).ends_with('.'), "{text}");
        }
    }
}
