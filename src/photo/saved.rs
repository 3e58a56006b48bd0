//! Hints and rings as JSON, for the worker of the page and for the command line.

use serde_json::{Map, Value, json};

use crate::measure::{Circle, Doubt, Flank, Hints, Lowered, Measured, PhotoDog};
use crate::view::View;

/// Hints as JSON.
pub fn hints_to_json(hints: &Hints) -> String {
    let circle = |circle: &Circle| {
        json!({
            "middle": circle.middle,
            "half": circle.half,
            "height_mm": circle.height_mm,
            "diameter_mm": circle.diameter_mm,
        })
    };
    json!({
        "outer": circle(&hints.outer),
        "inner": circle(&hints.inner),
        "dogs": hints.dogs,
        "bright": hints.bright,
        "tips_mm": hints.tips_mm,
        "lowered": hints.lowered.iter().map(|dog| [dog.angle, dog.below_mm]).collect::<Vec<_>>(),
    })
    .to_string()
}

/// Hints from JSON; `None` if it is not of their form.
pub fn hints_from_json(text: &str) -> Option<Hints> {
    let all: Value = serde_json::from_str(text).ok()?;
    Some(Hints {
        outer: circle(all.get("outer")?)?,
        inner: circle(all.get("inner")?)?,
        dogs: all.get("dogs").and_then(Value::as_u64).and_then(|dogs| usize::try_from(dogs).ok()),
        bright: all.get("bright").and_then(Value::as_bool),
        tips_mm: all.get("tips_mm").and_then(pair),
        lowered: match all.get("lowered").and_then(Value::as_array) {
            Some(dogs) => dogs.iter().map(lowered).collect::<Option<_>>()?,
            None => Vec::new(),
        },
    })
}

fn circle(of: &Value) -> Option<Circle> {
    let half = of.get("half")?.as_array()?;
    Some(Circle {
        middle: pair(of.get("middle")?)?,
        half: [pair(half.first()?)?, pair(half.get(1)?)?],
        height_mm: of.get("height_mm").and_then(Value::as_f64).unwrap_or_default(),
        diameter_mm: of.get("diameter_mm").and_then(Value::as_f64),
    })
}

fn lowered(of: &Value) -> Option<Lowered> {
    let [angle, below_mm] = pair(of)?;
    Some(Lowered { angle, below_mm })
}

fn pair(of: &Value) -> Option<[f64; 2]> {
    let [a, b] = of.as_array()?.as_slice() else { return None };
    Some([a.as_f64()?, b.as_f64()?])
}

/// A ring as JSON. Angles are degrees.
pub fn measured_to_json(ring: &Measured) -> Value {
    let flank = |flank: &Flank| {
        let word = |doubt: Doubt| Doubt::ALL.iter().find(|own| own.1 == doubt).map(|own| own.0);
        json!({
            "deg": flank.angle.map(f64::to_degrees),
            "sigma_deg": flank.sigma.to_degrees(),
            "scatter_px": flank.scatter_px,
            "doubt": flank.doubt.and_then(word),
        })
    };
    let dog = |dog: &PhotoDog| {
        json!({
            "drive": flank(&dog.drive),
            "coast": flank(&dog.coast),
            "below_mm": dog.below_mm,
        })
    };
    let View { focal_px, middle, lean, place } = ring.view;
    json!({
        "view": { "focal_px": focal_px, "middle": middle, "lean": lean, "place": place },
        "tilt_deg": ring.view.tilt().to_degrees(),
        "error_per_mm_deg": ring.error_per_mm().to_degrees(),
        "too_tilted": ring.is_too_tilted(),
        "outer_mm": [ring.outer_mm.0, ring.outer_mm.1],
        "inner_mm": [ring.inner_mm.0, ring.inner_mm.1],
        "off_px": ring.off_px,
        "bright": ring.bright,
        "lens_deg": ring.lens.to_degrees(),
        "dogs": ring.dogs.iter().map(dog).collect::<Vec<_>>(),
    })
}

/// A ring from JSON; `None` if it is not of its form.
pub fn measured_from_json(all: &Value) -> Option<Measured> {
    let view = all.get("view")?.as_object()?;
    let place = view.get("place")?.as_array()?;
    let place: Vec<f64> = place.iter().filter_map(Value::as_f64).collect();
    let size = |key: &str| all.get(key).and_then(pair).map(|[value, sigma]| (value, sigma));
    let dogs = all.get("dogs")?.as_array()?.iter().map(|dog| {
        Some(PhotoDog {
            below_mm: dog.get("below_mm").and_then(Value::as_f64).unwrap_or_default(),
            drive: flank(dog.get("drive")?)?,
            coast: flank(dog.get("coast")?)?,
        })
    });
    Some(Measured {
        view: View {
            focal_px: number(view, "focal_px")?,
            middle: pair(view.get("middle")?)?,
            lean: pair(view.get("lean")?)?,
            place: place.try_into().ok()?,
        },
        outer_mm: size("outer_mm")?,
        inner_mm: size("inner_mm")?,
        off_px: all.get("off_px")?.as_f64()?,
        bright: all.get("bright")?.as_bool()?,
        lens: all.get("lens_deg")?.as_f64()?.to_radians(),
        dogs: dogs.collect::<Option<_>>()?,
    })
}

fn number(of: &Map<String, Value>, key: &str) -> Option<f64> {
    of.get(key)?.as_f64()
}

fn flank(of: &Value) -> Option<Flank> {
    let of = of.as_object()?;
    let doubt = of.get("doubt").and_then(Value::as_str);
    Some(Flank {
        angle: number(of, "deg").map(f64::to_radians),
        sigma: number(of, "sigma_deg")?.to_radians(),
        scatter_px: number(of, "scatter_px")?,
        doubt: doubt.and_then(|word| Doubt::ALL.iter().find(|own| own.0 == word)).map(|own| own.1),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hints_and_rings_come_back() {
        let outer = Circle::round([600.5, 400.0], 300.0, Some(60.0));
        let inner = Circle { height_mm: -5.0, diameter_mm: None, ..outer };
        let hints = Hints {
            outer,
            inner,
            dogs: Some(6),
            bright: Some(false),
            tips_mm: Some([44.0, 60.0]),
            lowered: vec![Lowered { angle: 1.5, below_mm: 2.25 }],
        };
        assert_eq!(hints_from_json(&hints_to_json(&hints)), Some(hints));
        assert_eq!(hints_from_json("{}"), None);
        let flank = |angle| Flank {
            angle,
            sigma: 0.5,
            scatter_px: 0.25,
            doubt: angle.is_none().then_some(Doubt::NoEdge),
        };
        let ring = Measured {
            view: View {
                focal_px: 900.0,
                middle: [1.0, 2.0],
                lean: [0.5, 0.25],
                place: [1.0, 2.0, 300.0],
            },
            outer_mm: (30.0, 0.0),
            inner_mm: (22.0, 0.125),
            off_px: 0.25,
            bright: true,
            lens: 0.125,
            dogs: vec![PhotoDog { below_mm: 1.5, drive: flank(None), coast: flank(Some(0.0)) }],
        };
        let again = measured_from_json(&measured_to_json(&ring)).expect("a ring");
        assert_eq!(again.dogs[0].drive.doubt, Some(Doubt::NoEdge));
        assert!((again.dogs[0].below_mm - 1.5).abs() < 1e-12 && (again.lens - 0.125).abs() < 1e-12);
        assert!((again.dogs[0].coast.sigma - 0.5).abs() < 1e-12 && again.view == ring.view);
        assert_eq!(measured_from_json(&json!({ "view": 3 })), None);
    }
}
