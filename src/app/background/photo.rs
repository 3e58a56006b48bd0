//! A photograph, measured beside the page.
//!
//! A job is `[light, width, height, hints]`, where `hints` are circles as JSON, or `[light, width, height, dogs, diameter]`
//! where the picture itself suggests them. The answers are `[circles, ring]` as JSON, either of them missing where there is
//! none, and the place of the reason among those of [`NotMeasured`].

use js_sys::{Array, Uint8Array};
use wasm_bindgen::{JsCast as _, JsValue};

use crenel_photo::{
    Circle, Grey, Hints, Measured, NotMeasured, hints_from_json, hints_to_json, measure,
    measured_from_json, measured_to_json, propose,
};

use super::{Background, Job, Kind, Post, index, number};

/// What came of a picture.
pub(crate) struct Looked {
    /// The circles that were laid over it; `None` where it suggests none.
    pub(crate) hints: Option<Hints>,
    /// Its ring, or why there is none.
    pub(crate) ring: Result<Measured, NotMeasured>,
}

/// Starts a worker that measures pictures.
pub(crate) fn start(done: impl Fn(Looked) + 'static) -> Background {
    Background::start(Kind::Photo, move |answer| {
        let hints = answer.get(0).as_string().and_then(|text| hints_from_json(&text));
        let ring = answer.get(1).as_string().and_then(|text| serde_json::from_str(&text).ok());
        let ring = ring.as_ref().and_then(measured_from_json);
        let why = NotMeasured::ALL.get(index(answer, 2)).copied();
        done(Looked { hints, ring: ring.ok_or(why.unwrap_or(NotMeasured::NoCircle)) });
    })
}

/// The grey pixels of a picture.
#[derive(Clone)]
pub(crate) struct Light {
    pub(crate) pixels: Uint8Array,
    pub(crate) width: u32,
    pub(crate) height: u32,
}

impl Light {
    fn job(&self) -> Array {
        Array::of3(&self.pixels, &self.width.into(), &self.height.into())
    }
}

/// Requests the ring under two circles. An earlier request is dropped.
pub(crate) fn ask(background: &Background, light: &Light, hints: &Hints) {
    let job = light.job();
    job.push(&hints_to_json(hints).into());
    background.ask(&job);
}

/// Requests the ring that the picture itself suggests, with so many dogs and an outer diameter in mm.
pub(crate) fn ask_where(background: &Background, light: &Light, dogs: u32, diameter_mm: f64) {
    let job = light.job();
    job.push(&dogs.into());
    job.push(&diameter_mm.into());
    background.ask(&job);
}

/// A picture to be measured in one slice.
struct Photo(Option<(Grey, Given)>);

/// Circles, or what to suggest them by.
enum Given {
    Circles(Hints),
    Dogs(usize, f64),
}

/// Begins a job.
pub(super) fn begin(job: &Array) -> Box<dyn Job> {
    let picture = job.get(0).dyn_into::<Uint8Array>().ok().and_then(|light| {
        let grey = Grey::new(index(job, 1), index(job, 2), light.to_vec())?;
        let given = match job.get(3).as_string() {
            Some(hints) => Given::Circles(hints_from_json(&hints)?),
            None => Given::Dogs(index(job, 3), number(job, 4)),
        };
        Some((grey, given))
    });
    Box::new(Photo(picture))
}

impl Job for Photo {
    fn slice(&mut self, post: &Post) -> bool {
        let Some((grey, given)) = self.0.take() else { return false };
        let hints = match given {
            Given::Circles(hints) => Some(hints),
            Given::Dogs(dogs, diameter_mm) => suggested(&grey, dogs, diameter_mm),
        };
        let ring = hints.as_ref().map_or(Err(NotMeasured::NoDogs), |hints| measure(&grey, hints));
        let hints = hints.map_or(JsValue::NULL, |hints| hints_to_json(&hints).into());
        post(&match ring {
            Ok(ring) => Array::of2(&hints, &measured_to_json(&ring).to_string().into()),
            Err(why) => {
                let at = NotMeasured::ALL.iter().position(|own| *own == why).unwrap_or_default();
                Array::of3(
                    &hints,
                    &JsValue::NULL,
                    &JsValue::from_f64(f64::from(u8::try_from(at).unwrap_or_default())),
                )
            }
        });
        false
    }
}

fn suggested(grey: &Grey, dogs: usize, diameter_mm: f64) -> Option<Hints> {
    let (middle, outer, inner) = propose(grey, dogs)?;
    Some(Hints {
        outer: Circle::round(middle, outer, Some(diameter_mm)),
        inner: Circle::round(middle, inner, None),
        dogs: Some(dogs),
        bright: None,
        tips_mm: None,
        lowered: Vec::new(),
    })
}
