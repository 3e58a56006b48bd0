//! The hatchings that the style sheet fills areas with. They are those of an exported file.

use leptos::prelude::*;

use crenel::export::{HATCHES, HatchBar, SvgHatch};

/// Every hatching, out of sight.
#[component]
pub(crate) fn Hatching() -> impl IntoView {
    view! {
        <svg class="sr" width="0" height="0" aria-hidden="true">
            <defs>{HATCHES.iter().map(pattern).collect_view()}</defs>
        </svg>
    }
}

fn pattern(hatch: &SvgHatch) -> impl IntoView + use<> {
    view! {
        <pattern id=hatch.id() width=hatch.size height=hatch.size patternUnits="userSpaceOnUse"
            patternTransform=hatch.transform()>
            <rect class="tint" width=hatch.size height=hatch.size></rect>
            {hatch.bars.iter().map(bar).collect_view()}
        </pattern>
    }
}

fn bar(&[x, y, width, height, rx]: &HatchBar) -> impl IntoView + use<> {
    view! { <rect class="bar" x=x y=y width=width height=height rx=rx></rect> }
}
