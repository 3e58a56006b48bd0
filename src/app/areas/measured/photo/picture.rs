//! A file as a picture: decoded by the browser, shrunk where it is large, and its light as grey pixels.

use js_sys::{Function, Object, Promise, Reflect, Uint8Array};
use leptos::prelude::{document, window};
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, CanvasRenderingContext2d, HtmlCanvasElement, ImageBitmap};

use crenel_photo::{Grey, HEADER_BYTES, Header, header};
use crenel_words::Advice;
use crenel_words::page::photo as say;

use crate::background::photo::Light;

/// Pictures are shrunk to this width or height, px: more of them than edges need, and not more than a phone can hold.
const MOST_PX: u32 = 4096;

/// A picture has at least this width and height, px: a ring needs 240 of them.
const LEAST_PX: u32 = 240;

/// So many rows are turned into light at once, so that no copy of the whole picture in colour is needed.
const ROWS: u32 = 64;

/// A picture that is open.
#[derive(Clone)]
pub(super) struct Picture {
    pub(super) bitmap: ImageBitmap,
    pub(super) light: Light,
    /// Whether it was larger.
    pub(super) is_shrunk: bool,
}

/// A picture that is kept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Kept {
    /// Its place among the pictures of the page.
    pub(super) at: usize,
    /// Its size in that of the open picture.
    pub(super) by: f64,
    /// What it takes in the file, bytes.
    pub(super) bytes: usize,
}

impl Picture {
    pub(super) fn size(&self) -> [f64; 2] {
        [f64::from(self.light.width), f64::from(self.light.height)]
    }

    /// Gives back its memory.
    pub(super) fn close(&self) {
        self.bitmap.close();
    }
}

/// Opens a file. What cannot be opened is told with the next thing to do.
pub(super) async fn open(file: &Blob) -> Result<Picture, Advice> {
    let first = first_bytes(file).await.unwrap_or_default();
    let kind = header(&first);
    if kind == Header::Empty {
        return Err(say::empty());
    }
    let unread = || if kind == Header::Heif { say::heif() } else { say::not_a_picture() };
    let stored = match kind {
        Header::Sized(width, height) => Some(width.max(height)),
        _ => None,
    };
    let large = |size: Option<u32>| size.is_some_and(|size| size > MOST_PX);
    let wide = match kind {
        Header::Sized(width, height) if large(stored) => Some(shrunk(width, width.max(height))),
        _ => None,
    };
    let mut bitmap =
        bitmap(file, wide.map(|wide| ("resizeWidth", wide))).await.ok_or_else(unread)?;
    // A picture that lies on its side in the file, or whose size was not in its first bytes.
    let [width, height] = [bitmap.width(), bitmap.height()];
    let is_large = large(Some(width.max(height)));
    if is_large {
        let wide = shrunk(width, width.max(height));
        let smaller =
            self::bitmap(&bitmap, Some(("resizeWidth", wide))).await.ok_or_else(unread)?;
        bitmap.close();
        bitmap = smaller;
    }
    let [width, height] = [bitmap.width(), bitmap.height()];
    if width.min(height) < LEAST_PX {
        bitmap.close();
        return Err(say::too_coarse(size(width), size(height)));
    }
    let pixels = light_of(&bitmap).ok_or_else(unread)?;
    let light = Light { pixels, width, height };
    Ok(Picture { bitmap, light, is_shrunk: is_large || wide.is_some() })
}

fn shrunk(width: u32, long: u32) -> u32 {
    let wide = u64::from(width) * u64::from(MOST_PX) / u64::from(long.max(1));
    u32::try_from(wide.max(1)).unwrap_or(MOST_PX)
}

/// A number of pixels, for a sentence.
pub(super) fn size(px: u32) -> usize {
    usize::try_from(px).unwrap_or_default()
}

async fn first_bytes(file: &Blob) -> Option<Vec<u8>> {
    let most = f64::from(u32::try_from(HEADER_BYTES).unwrap_or(u32::MAX));
    let part = file.slice_with_f64_and_f64(0.0, most.min(file.size())).ok()?;
    let bytes = JsFuture::from(part.array_buffer()).await.ok()?;
    Some(Uint8Array::new(&bytes).to_vec())
}

/// A bitmap of a file or of another bitmap, upright as the camera was held; `None` where the browser cannot.
async fn bitmap(of: &JsValue, resize: Option<(&str, u32)>) -> Option<ImageBitmap> {
    let make: Function =
        Reflect::get(&window(), &"createImageBitmap".into()).ok()?.dyn_into().ok()?;
    let options = Object::new();
    let set = |key: &str, value: &JsValue| Reflect::set(&options, &key.into(), value).ok();
    set("imageOrientation", &"from-image".into())?;
    if let Some((key, px)) = resize {
        set(key, &px.into())?;
        set("resizeQuality", &"high".into())?;
    }
    let promise = make.call2(&window(), of, &options).ok()?.dyn_into::<Promise>().ok()?;
    JsFuture::from(promise).await.ok()?.dyn_into().ok()
}

/// The light of a bitmap, strip by strip.
fn light_of(bitmap: &ImageBitmap) -> Option<Uint8Array> {
    let (width, height) = (bitmap.width(), bitmap.height());
    let canvas: HtmlCanvasElement = document().create_element("canvas").ok()?.dyn_into().ok()?;
    canvas.set_width(width);
    canvas.set_height(ROWS);
    let options = Object::new();
    Reflect::set(&options, &"willReadFrequently".into(), &true.into()).ok()?;
    let context = canvas.get_context_with_context_options("2d", &options).ok()??;
    let context: CanvasRenderingContext2d = context.dyn_into().ok()?;
    let light = Uint8Array::new_with_length(width.checked_mul(height)?);
    let mut top = 0;
    while top < height {
        let rows = ROWS.min(height - top);
        context.set_fill_style_str("#fff");
        context.fill_rect(0.0, 0.0, f64::from(width), f64::from(rows));
        context.draw_image_with_image_bitmap(bitmap, 0.0, -f64::from(top)).ok()?;
        let strip = context.get_image_data(0.0, 0.0, f64::from(width), f64::from(rows)).ok()?;
        light.set(&Uint8Array::from(&Grey::light_of(&strip.data())[..]), top * width);
        top += rows;
    }
    Some(light)
}
