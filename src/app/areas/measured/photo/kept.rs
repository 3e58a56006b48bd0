//! A picture as it is kept in the file: scaled, as text, with what was marked on it.

use std::collections::BTreeMap;
use std::sync::Arc;

use gloo_file::Blob;
use leptos::prelude::*;
use serde_json::{Value, json};
use wasm_bindgen::JsCast as _;
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement};

use crenel::design::{Design, MOST_PHOTOS, MOST_READ_DOGS, PHOTO_LIMIT};
use crenel_photo::{hints_from_json, hints_to_json, measured_from_json, measured_to_json};
use crenel_words::Advice;
use crenel_words::page::photo as say;

use super::desk::Desk;
use super::picture::{Kept, Picture};
use crate::state::here;

/// Width and height that a kept picture has at most, px, and those that are tried where it is too large as text.
pub(super) const KEPT_PX: usize = 1600;
const SMALLER: [f64; 3] = [1600.0, 1200.0, 800.0];

/// The qualities that are tried, the best first.
const QUALITIES: [f64; 2] = [0.85, 0.6];

/// Keeps the open picture in the file, or lets it go.
pub(super) fn keep(desk: Desk, is_kept: bool) {
    let photos = desk.sheet.state.photos;
    if let Some(kept) = desk.kept.get_untracked() {
        photos
            .update(|all| all.get_mut(kept.at).into_iter().for_each(|photo| photo.1 = Value::Null));
    }
    desk.kept.set(None);
    if !is_kept {
        return;
    }
    if untrack(|| desk.sheet.state.photos_to_save()).len() >= MOST_PHOTOS {
        return tell(desk, say::kept_full(MOST_PHOTOS));
    }
    let made = desk.picture.with_untracked(|picture| picture.as_ref().and_then(as_text));
    let Some((picture, by)) = made else {
        return tell(desk, say::not_kept());
    };
    let (place, gear) =
        untrack(|| (desk.sheet.state.place(), desk.sheet.state.with(Design::gear_open)));
    let bytes = picture.len();
    let mut photo = json!({ "ring": desk.sheet.side.key(), "picture": picture });
    if let Some(gear) = gear {
        photo["gear"] = json!(gear + 1);
    }
    let at = photos.with_untracked(Vec::len);
    photos.update(|all| all.push((place, photo)));
    desk.kept.set(Some(Kept { at, by, bytes }));
}

/// Says why a picture is not kept.
fn tell(desk: Desk, why: Advice) {
    desk.sheet.state.tell(here(vec![why.says, why.next]), true);
}

/// A picture as a data URL that is short enough, and its size in that of the picture.
fn as_text(picture: &Picture) -> Option<(String, f64)> {
    let [width, height] = picture.size();
    SMALLER.into_iter().find_map(|most| {
        let by = (most / width.max(height)).min(1.0);
        let canvas = drawn(picture, by)?;
        // A browser that cannot write WebP writes PNG, which is far larger.
        let text = |kind: &str, quality: f64| {
            let text =
                canvas.to_data_url_with_type_and_encoder_options(kind, &quality.into()).ok()?;
            let is_so = text.starts_with(&format!("data:{kind}"));
            (is_so && text.len() <= PHOTO_LIMIT).then_some(text)
        };
        let tried = |q: f64| text("image/webp", q).or_else(|| text("image/jpeg", q));
        let text = QUALITIES.into_iter().find_map(tried)?;
        Some((text, f64::from(canvas.width()) / width))
    })
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a picture")]
fn drawn(picture: &Picture, by: f64) -> Option<HtmlCanvasElement> {
    let [width, height] = picture.size().map(|side| (side * by).round().max(1.0));
    let canvas: HtmlCanvasElement = document().create_element("canvas").ok()?.dyn_into().ok()?;
    canvas.set_width(width as u32);
    canvas.set_height(height as u32);
    let context: CanvasRenderingContext2d = canvas.get_context("2d").ok()??.dyn_into().ok()?;
    context.set_fill_style_str("#fff");
    context.fill_rect(0.0, 0.0, width, height);
    context
        .draw_image_with_image_bitmap_and_dw_and_dh(&picture.bitmap, 0.0, 0.0, width, height)
        .ok()?;
    Some(canvas)
}

/// Writes what is marked now beside the picture that is kept.
pub(super) fn write_marks(desk: Desk) {
    let Some(kept) = desk.kept.get() else { return };
    let marks = marks(desk, kept.by);
    desk.sheet.state.photos.update(|all| {
        if let Some((_, photo)) = all.get_mut(kept.at).filter(|photo| !photo.1.is_null()) {
            photo["marks"] = marks;
        }
    });
}

/// What is marked on a picture, in the pixels of the one that is kept. Angles of flanks placed by hand are radians.
fn marks(desk: Desk, by: f64) -> Value {
    let hints = desk.asked().map(|hints| hints_to_json(&hints.scaled(by)));
    let hints = hints.and_then(|text| serde_json::from_str::<Value>(&text).ok());
    let ring = desk.ring.get().map(|ring| measured_to_json(&(*ring).clone().scaled(by)));
    let placed = desk.placed.get();
    let placed: Vec<Value> =
        placed.iter().map(|((dog, side), angle)| json!([dog, side, angle])).collect();
    json!({ "circles": hints, "ring": ring, "placed": placed, "first": desk.first.get() })
}

/// Opens a picture that is kept in the file, with what was marked on it.
pub(super) fn open_kept(desk: Desk, at: usize) {
    let photos = desk.sheet.state.photos;
    let photo = photos.with_untracked(|all| all.get(at).map(|all| all.1.clone()));
    let Some((file, kept)) = photo.as_ref().and_then(|photo| opened(at, photo)) else {
        return desk.wrong.set(Some(say::kept_damaged()));
    };
    desk.open_then(file, move |desk| {
        if !photo.is_some_and(|photo| take_marks(desk, &photo["marks"])) {
            desk.wrong.set(Some(say::marks_damaged()));
            desk.suggest();
        }
        desk.kept.set(Some(kept));
    });
}

/// The file of a picture that is kept, and how it is kept; `None` if it is damaged.
fn opened(at: usize, photo: &Value) -> Option<(web_sys::Blob, Kept)> {
    let text = photo["picture"].as_str()?;
    let (kind, coded) = text.strip_prefix("data:")?.split_once(";base64,")?;
    let binary = window().atob(coded).ok()?;
    // What it gives has a character for each byte.
    let bytes: Vec<u8> =
        binary.chars().filter_map(|byte| u8::try_from(u32::from(byte)).ok()).collect();
    let file = Blob::new_with_options(&bytes[..], Some(kind));
    Some((file.into(), Kept { at, by: 1.0, bytes: text.len() }))
}

/// Puts what was marked back onto the picture that is open. Returns whether it could be read.
fn take_marks(desk: Desk, marks: &Value) -> bool {
    let Some(hints) = hints_from_json(&marks["circles"].to_string()) else { return false };
    let ring = measured_from_json(&marks["ring"]);
    let ring = ring.filter(|ring| ring.dogs.len() <= MOST_READ_DOGS);
    let known = [hints.outer, hints.inner];
    let is_outer = known[0].diameter_mm.is_some();
    let Some(diameter) = known.iter().find_map(|circle| circle.diameter_mm) else { return false };
    desk.is_outer.set(is_outer);
    desk.diameter_mm.set(diameter);
    for (height, circle) in desk.heights_mm.into_iter().zip(known) {
        height.set(circle.height_mm);
    }
    desk.bright.set(hints.bright);
    let dogs = ring.as_ref().map_or(0, |ring| ring.dogs.len());
    let placed = marks["placed"].as_array().into_iter().flatten().filter_map(|placed| {
        let number = |at: usize| usize::try_from(placed[at].as_u64()?).ok();
        let flank = (number(0)?, number(1)?);
        (flank.0 < dogs && flank.1 < 2).then(|| (flank, placed[2].as_f64()))
    });
    desk.placed.set(placed.collect::<BTreeMap<_, _>>());
    let first = marks["first"].as_u64().and_then(|first| usize::try_from(first).ok());
    desk.first.set(first.filter(|first| *first < dogs).unwrap_or_default());
    desk.hints.set(Some(hints));
    let is_measured = ring.is_some();
    desk.ring.set(ring.map(Arc::new));
    if !is_measured {
        desk.measure();
    }
    true
}
