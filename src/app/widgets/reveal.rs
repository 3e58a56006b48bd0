//! Goes to a number: its area, and its form or its dog in the inspector.

use leptos::prelude::*;

use crenel::fields::Slot;
use crenel::verdict::Stage;

use crate::dom::go_to_element;
use crate::state::{AppState, Area, Inspected, Panel};
use crate::widgets::number_field::selector_of;

/// Shows the first of some numbers in its area; without numbers, the stage.
pub(crate) fn reveal(state: AppState, stage: Stage, slots: &[Slot]) {
    let Some(slot) = slots.first() else {
        if state.current_area().stage() != Some(stage) {
            let first = state.areas.of_stage(stage).next();
            first.into_iter().for_each(|area| state.open_area(area.key));
        }
        return;
    };
    show(state, *slot);
}

/// Shows one number, selected.
pub(crate) fn show(state: AppState, slot: Slot) {
    if let Slot::Dog(side, place, _) = slot {
        if state.current_area().pictures().is_empty() {
            state.open_area(state.areas.first().key);
        }
        return state.choose(side, place);
    }
    let Some((area, panel)) = owner(state, slot) else { return };
    state.open_area(area.key);
    panel.into_iter().for_each(|panel| show_panel(state, panel));
    state.explain(slot);
}

/// Shows a panel of the open area in the inspector. While all panels are open below, it is there.
pub(crate) fn show_panel(state: AppState, panel: &Panel<AnyView>) {
    state.layout.inspected.set(Inspected::Panel(panel.key));
}

/// Shows the first panel with a key, in its area, and puts the cursor into its first entry.
pub(crate) fn show_named(state: AppState, key: &str) {
    let panels = state.areas.0.iter().flat_map(|area| area.panels().iter().map(move |p| (area, p)));
    let Some((area, panel)) = panels.into_iter().find(|(_, panel)| panel.key == key) else {
        return;
    };
    state.open_area(area.key);
    show_panel(state, panel);
    go_to_element(format!(".panel-{key} :is(input, textarea)"), |_| ());
}

/// Puts the cursor into the field of a number, once it is on the page, and unfolds what hides it. It never comes if it cannot be typed as the
/// design is, such as the width where the gap is given.
pub(crate) fn focus_field(slot: Slot) {
    go_to_element(selector_of(slot), |field| {
        if let Ok(Some(fold)) = field.closest("details:not([open])") {
            // It fails only for a name that is none.
            let _ = fold.set_attribute("open", "");
        }
    });
}

/// The area and the panel that a number is typed in.
fn owner(
    state: AppState,
    slot: Slot,
) -> Option<(&'static Area<AnyView>, Option<&'static Panel<AnyView>>)> {
    let panels = state.areas.0.iter().flat_map(|area| area.panels().iter().map(move |p| (area, p)));
    let owned = panels.into_iter().find(|(_, panel)| (panel.owns)(slot));
    owned.map(|(area, panel)| (area, Some(panel))).or_else(|| {
        let page = state.areas.0.iter().find(|area| (area.owns)(slot));
        page.map(|area| (area, None))
    })
}
