//! Where a drawing has nothing to show because its part is not given: what is missing, and a beginning.

use leptos::prelude::*;

use crenel::design::{Claw, Depth, Design, Linkage, Track};
use crenel::draw::ViewKind;

use super::office::Office;

/// A button that gives a part with invented sizes.
type Begin = (&'static str, fn(&mut Design));

/// What a drawing cannot do without.
#[derive(Clone, Copy)]
struct Need {
    /// That it is missing.
    words: &'static str,
    given: fn(&Design) -> bool,
    begin: Option<Begin>,
}

impl Need {
    fn of(kind: ViewKind) -> Option<Self> {
        let linkage = Self {
            words: "No linkage is given yet.",
            given: |d| d.selector.linkage.is_some(),
            begin: Some(("Begin with an invented linkage", |d| {
                d.selector.linkage = Some(Linkage::default());
            })),
        };
        Some(match kind {
            ViewKind::Linkage => linkage,
            // It stands beside the linkage.
            ViewKind::Swing => Self { begin: None, ..linkage },
            ViewKind::Claw => Self {
                words: "No claw and no detent is given yet.",
                given: |d| d.selector.claw.is_some() || d.selector.detent.is_some(),
                begin: Some(("Begin with an invented claw", |d| {
                    d.selector.claw = Some(Claw::default());
                })),
            },
            ViewKind::Track => Self {
                words: "No drum track is given yet.",
                given: |d| d.selector.track.is_some(),
                begin: Some(("Begin with an invented track", |d| {
                    d.selector.track = Some(Track::default());
                })),
            },
            ViewKind::Chains => Self {
                words: "No chains are given yet.",
                given: |d| d.depth.is_some(),
                begin: Some(("Begin with invented chains", |d| d.depth = Some(Depth::example()))),
            },
            _ => return None,
        })
    }
}

/// Whether the part that a drawing shows is missing.
pub(crate) fn is_missing(office: Office, kind: ViewKind) -> Memo<bool> {
    let need = Need::of(kind);
    Memo::new(move |_| need.is_some_and(|need| office.with(|d| !(need.given)(d))))
}

/// What stands in place of the drawing meanwhile.
#[component]
pub(crate) fn Missing(kind: ViewKind) -> impl IntoView {
    let office = Office::here();
    let button = move |(words, give): Begin| {
        view! { <button on:click=move |_| office.change(give)>{words}</button> }
    };
    Need::of(kind).map(|need| {
        view! {
            <div class="row missing">
                <p>{need.words}</p>
                {need.begin.map(button)}
            </div>
        }
    })
}
