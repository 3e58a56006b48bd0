//! Copies texts, drawings and pictures of drawings.

use std::borrow::Cow;

use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{Blob, CanvasRenderingContext2d, HtmlCanvasElement, HtmlImageElement};

use crenel::draw::Scene;
use crenel::export::svg_file;
use crenel_words::Phrase;
use crenel_words::page::{drawing as say, figure, files};

use crate::state::{AppState, Dialog, Printing, here, use_app_state};
use crate::widgets::files::download;

/// The width of a picture, pixels: sharp on half a page of paper.
const PICTURE_PX: u32 = 1600;

/// Copies a text, at once: a browser allows it only while it handles a press. Returns whether it allowed it.
pub(crate) fn write_text(text: &str) -> impl Future<Output = bool> + use<> {
    let writing = window().navigator().clipboard().write_text(text);
    async { JsFuture::from(writing).await.is_ok() }
}

/// Copies a text and says so. If the browser refuses, says what to do instead.
pub(crate) fn copy_text(state: AppState, text: &str, [done, refused]: [Phrase; 2]) {
    let writing = write_text(text);
    spawn_local(async move {
        state.flash(here(if writing.await { done } else { refused }));
    });
}

/// Copies a drawing as a picture. If the browser refuses, the picture is saved as a file.
pub(crate) fn copy_picture(state: AppState, svg: String, ending: String) {
    spawn_local(async move {
        let made = picture(&svg, PICTURE_PX).await;
        let Ok(blob) = made else {
            return state.tell(here(files::no_picture), true);
        };
        if put_picture(&blob).await.is_ok() {
            return state.flash(here(files::picture_copied));
        }
        let bytes = gloo_file::futures::read_as_bytes(&gloo_file::Blob::from(blob)).await;
        match bytes {
            Ok(bytes) => download(state, &ending, "image/png", &bytes),
            Err(_) => state.tell(here(files::picture_refused), true),
        }
    });
}

/// Saves a drawing as a picture that is so many pixels wide.
pub(crate) fn save_picture(state: AppState, svg: String, width: f64, ending: String) {
    // Widths of figures in pixels are small; the cast saturates.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let width = width.round().clamp(1.0, 8000.0) as u32;
    spawn_local(async move {
        let made = picture(&svg, width).await;
        let Ok(blob) = made else { return state.tell(here(files::no_picture), true) };
        match gloo_file::futures::read_as_bytes(&gloo_file::Blob::from(blob)).await {
            Ok(bytes) => download(state, &ending, "image/png", &bytes),
            Err(_) => state.tell(here(files::picture_refused), true),
        }
    });
}

async fn put_picture(blob: &Blob) -> Result<(), JsValue> {
    let items = js_sys::Object::new();
    js_sys::Reflect::set(&items, &JsValue::from_str("image/png"), blob)?;
    let item = web_sys::ClipboardItem::new_with_record_from_str_to_blob_promise(&items)?;
    let clipboard = window().navigator().clipboard();
    JsFuture::from(clipboard.write(&js_sys::Array::of1(&item))).await?;
    Ok(())
}

/// An SVG file as a PNG.
async fn picture(svg: &str, width: u32) -> Result<Blob, JsValue> {
    let image = HtmlImageElement::new()?;
    let address = format!(
        "data:image/svg+xml;charset=utf-8,{}",
        String::from(js_sys::encode_uri_component(svg))
    );
    image.set_src(&address);
    JsFuture::from(image.decode()).await?;
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.dyn_into()?;
    let (wide, high) = (image.natural_width().max(1), image.natural_height().max(1));
    canvas.set_width(width);
    canvas.set_height(width * high / wide);
    let pen =
        canvas.get_context("2d")?.ok_or(JsValue::NULL)?.dyn_into::<CanvasRenderingContext2d>()?;
    let (across, down) = (f64::from(canvas.width()), f64::from(canvas.height()));
    pen.set_fill_style_str("#fff");
    pen.fill_rect(0.0, 0.0, across, down);
    pen.draw_image_with_html_image_element_and_dw_and_dh(&image, 0.0, 0.0, across, down)?;
    let made = js_sys::Promise::new(&mut |done, failed| {
        // Refused only if a picture from another site was drawn.
        if let Err(why) = canvas.to_blob(&done) {
            let _ = failed.call1(&JsValue::NULL, &why);
        }
    });
    JsFuture::from(made).await?.dyn_into()
}

/// Copies a drawing, as lines or as a picture.
#[component]
pub(crate) fn CopyButtons(
    /// The drawing in words.
    #[prop(into)]
    what: Cow<'static, str>,
    /// The name of the file of its picture, which is the same in every language.
    name: &'static str,
    /// Makes the SVG file.
    file: Callback<(), String>,
    /// Lays the drawing out for letters of a share of its width, where it can be a figure of a paper.
    #[prop(optional, into)]
    scene: Option<Callback<f64, Scene>>,
) -> impl IntoView {
    let state = use_app_state();
    let figure = scene.map(|scene| {
        let printing = Printing { what: what.to_string(), name, scene };
        let label = here(figure::figure_of(what.to_string()));
        let open = move |_| {
            state.printing.set(Some(printing.clone()));
            state.dialog.set(Some(Dialog::Figure));
        };
        view! { <button class="small" aria-label=label on:click=open>{here(figure::open_figure)}</button> }
    });
    let ending = format!("{name}.png");
    let svg_of = here(say::copy_svg_of(what.to_string()));
    let picture_of = here(say::copy_picture_of(what.into_owned()));
    let lines = move |_| {
        copy_text(state, &file.run(()), [files::svg_copied, files::svg_not_copied]);
    };
    let pixels = move |_| copy_picture(state, file.run(()), ending.clone());
    view! {
        <button class="small" aria-label=svg_of on:click=lines>{here(say::copy_svg)}</button>
        <button class="small" aria-label=picture_of on:click=pixels>{here(say::copy_picture)}</button>
        {figure}
    }
}

/// A drawing that its menu copies. The code that does it is fetched when the menu opens.
#[derive(Clone)]
pub(crate) struct Copied {
    /// The drawing in words.
    pub(crate) what: Cow<'static, str>,
    /// The name of the file of its picture.
    pub(crate) name: &'static str,
    /// Draws it as on the screen, with the title of the design.
    pub(crate) drawn: Callback<(), (Scene, String)>,
    /// Lays it out for letters of a share of its width.
    pub(crate) figure: Callback<f64, Scene>,
}

/// The buttons that copy the drawing of the menu around them.
#[component]
pub(crate) fn CopyDrawing() -> impl IntoView {
    let Copied { what, name, drawn, figure } = expect_context();
    let file = Callback::new(move |()| {
        let (scene, title) = drawn.run(());
        svg_file(&scene, &title)
    });
    view! { <CopyButtons what name file scene=figure/> }
}
