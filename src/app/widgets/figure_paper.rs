//! A figure on a paper of its own size: printed, or saved as PDF by the browser's own dialog.

use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{CssStyleSheet, Element, HtmlImageElement};

use crenel_words::page::figure as say;

use crate::state::{AppState, here};

/// Prints an SVG file on paper of its width and height, in whole points: those are what browsers keep of a size. While
/// it is printed nothing else of the page is on paper.
pub(crate) fn print_figure(state: AppState, address: String, [width, height]: [f64; 2]) {
    spawn_local(async move {
        let Ok((paper, rule)) = put_up(&address, width, height).await else {
            return state.tell(here(say::not_printed), true);
        };
        // Some browsers come back before they have printed; this event comes after it in all of them.
        let listener = StoredValue::new_local(None);
        let done = EventListener::once(&window(), "afterprint", move |_| {
            paper.remove();
            rule.take_away();
            listener.dispose();
        });
        listener.set_value(Some(done));
        // Nothing is printed on a page that is gone.
        let _ = window().print();
    });
}

/// The rule of the page that gives the paper its size.
struct SizeRule {
    sheet: CssStyleSheet,
    at: u32,
}

impl SizeRule {
    /// A rule of its own is no text in the page, which the page's policy would forbid.
    fn put(width: f64, height: f64) -> Result<Self, JsValue> {
        let sheet = document().style_sheets().item(0).ok_or(JsValue::NULL)?;
        let sheet: CssStyleSheet = sheet.dyn_into()?;
        let rule = format!("@page figure-paper {{ size: {width:.0}pt {height:.0}pt; margin: 0 }}");
        let at = sheet.insert_rule_with_index(&rule, sheet.css_rules()?.length())?;
        Ok(Self { sheet, at })
    }

    fn take_away(&self) {
        // Fails only if somebody else took it away.
        let _ = self.sheet.delete_rule(self.at);
    }
}

/// The picture at the end of the page, decoded, with the rule that gives it its paper.
async fn put_up(address: &str, width: f64, height: f64) -> Result<(Element, SizeRule), JsValue> {
    let image = HtmlImageElement::new()?;
    image.set_src(address);
    JsFuture::from(image.decode()).await?;
    let rule = SizeRule::put(width, height)?;
    let paper = document().create_element("div")?;
    paper.set_class_name("figure-paper");
    paper.append_child(&image)?;
    document().body().ok_or(JsValue::NULL)?.append_child(&paper)?;
    Ok((paper, rule))
}
