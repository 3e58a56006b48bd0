//! The state of the page: the design and its history, the selection, and how numbers are shown.

use std::sync::Arc;
use std::time::Duration;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{Design, Draft, History, ShiftFrom};
use crenel::draw::RingState;
use crenel::fields::{FieldId, Slot};
use crenel::finding::{Finding, Severity};
use crenel::model::Pose;
use crenel::ring::Side;
use crenel::selector::Stroke;
use crenel::shift::OutcomeMap;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};
use crenel::verdict::{Matter, Stage};
use crenel_words::page::{frame as say, whole};
use crenel_words::{Message, Reader};

use super::area::{Area, AreaKey, Areas};
use super::boxed::Boxed;
use super::cut_search::CutSearch;
use super::figure_spans::FigureSpans;
use super::kinds::{Dialog, Measured, Newer, Notice, Offer, Photos, Printing, Refused, Unfinished};
use super::language::{here, language};
use super::layout::{Inspected, PageLayout};
use super::playback::{Player, Reel};
use super::sentences::advice;
use crate::storage::store::Store;
use crate::storage::tab_storage::{self, TabStorage};

/// How long a brief message is shown.
const FLASH: Duration = Duration::from_millis(3000);

/// The initial state of the page.
pub(crate) struct Start {
    pub(crate) history: History,
    pub(crate) notice: Option<Notice>,
    pub(crate) tab_storage: TabStorage,
    /// Whether a link brought a design that was not the current one.
    pub(crate) from_link: bool,
    /// Whether the browser knows nobody who was here before.
    pub(crate) first_visit: bool,
    /// Texts typed before a reload that are not in the design.
    pub(crate) unfinished: Unfinished,
}

/// The state of the page that a component is on.
pub(crate) fn use_app_state() -> AppState {
    expect_context()
}

/// Finds what of a design is past a limit, the gravest first.
type FindMatters = fn(&Analysis) -> Vec<Matter>;

/// Shared by every part of the page.
#[derive(Clone, Copy)]
pub(crate) struct AppState {
    pub(crate) history: RwSignal<History>,
    /// Counts the gestures that were cancelled or interrupted. A drag in progress ends when it changes.
    pub(crate) given_up: RwSignal<u32>,
    /// The analysis of the design.
    pub(crate) analysis: Memo<Arc<Analysis>>,
    /// The errors among its findings. Hundreds of fields read them, and they seldom change.
    pub(crate) errors: Memo<Vec<Finding>>,
    /// What finds [`matters`](Self::matters). It comes with the verdict.
    pub(crate) find_matters: RwSignal<Option<FindMatters>>,
    /// What of the design is past a limit, the gravest first; nothing until the verdict is there.
    pub(crate) matters: Memo<Vec<Matter>>,
    /// The last analysis of a design that could be worked out, for the drawings.
    pub(crate) drawn: Memo<Arc<Analysis>>,
    /// The same design before any cut.
    pub(crate) found: Memo<Arc<Analysis>>,
    /// The analysis at phase 0, for results that are the same at every phase: turning the rings does not
    /// recompute them.
    pub(crate) unturned: Memo<Arc<Analysis>>,
    /// The analysis of the design as opened.
    pub(crate) before: Memo<Arc<Analysis>>,
    pub(crate) chosen: RwSignal<(Side, usize)>,
    pub(crate) units: RwSignal<DisplayUnits>,
    pub(crate) notice: RwSignal<Option<Notice>>,
    /// Texts in the inspection tables that are not in the design yet.
    pub(crate) measured: RwSignal<Measured>,
    /// Texts that other fields did not accept.
    pub(crate) refused: StoredValue<Vec<Refused>>,
    /// The last message for screen readers.
    pub(crate) said: RwSignal<String>,
    /// A brief message on the screen.
    pub(crate) flashed: RwSignal<Option<String>>,
    /// The number that is explained above the sizes.
    pub(crate) explained: RwSignal<Option<Slot>>,
    /// The sheet that lies over the page.
    pub(crate) dialog: RwSignal<Option<Dialog>>,
    /// The drawing that is to become a figure, while its sheet is open.
    pub(crate) printing: RwSignal<Option<Printing>>,
    /// What of the frame is open, and what is selected.
    pub(crate) layout: PageLayout,
    /// The place that Back or Forward led to last, until it was noted.
    pub(crate) gone_to: StoredValue<Option<String>>,
    /// Whether the design came by a link and nobody has changed it here.
    pub(crate) from_friend: RwSignal<bool>,
    /// Whether the browser keeps the app for use without a network.
    pub(crate) offline: RwSignal<bool>,
    /// All parts of the job.
    pub(crate) areas: Areas<AnyView>,
    /// The area on the screen.
    pub(crate) area: RwSignal<AreaKey>,
    /// The stage that is open.
    pub(crate) stage: Memo<Stage>,
    /// The area that is open, or that help was opened from.
    pub(crate) worked_in: Memo<AreaKey>,
    /// The shift being played.
    pub(crate) player: Player,
    /// The position of the rings of the design at the moment shown.
    pub(crate) pose: Memo<Option<Pose>>,
    /// The position at the moment of a whole shift from gear to gear that is looked at.
    pub(crate) posed: RwSignal<Option<Pose>>,
    /// The stroke of the pedal being played, and the share of it that is done; `None` at rest.
    pub(crate) stroke: RwSignal<Option<(Stroke, f64)>>,
    /// The outcome map of the design, as fine as it is so far.
    pub(crate) outcomes: RwSignal<Option<Arc<OutcomeMap>>>,
    /// The whole gearbox around the pair, as it was when it was last worked out.
    pub(crate) boxed: RwSignal<Option<Arc<Boxed>>>,
    /// Pictures of rings that are to be saved with the design.
    pub(crate) photos: Photos,
    /// The search for the smallest cut.
    pub(crate) cuts: CutSearch,
    /// The ranges of the figures over the tolerances.
    pub(crate) spans: FigureSpans,
    /// Whether the reader was told that the work is not kept. Reset when it is kept again.
    pub(crate) told_not_kept: StoredValue<bool>,
    /// Where this tab keeps its work.
    pub(crate) tab_storage: StoredValue<TabStorage, LocalStorage>,
    /// A newer build of the app, once there is one.
    pub(crate) newer: RwSignal<Option<Newer>>,
    /// Whether this page asked for it, and is to reload when it takes over.
    pub(crate) reload_requested: StoredValue<bool>,
}

impl AppState {
    /// The state of a page that begins with `start`.
    pub(crate) fn open(areas: Areas<AnyView>, start: Start) -> Self {
        let Start { history, notice, tab_storage, from_link, first_visit, unfinished } = start;
        // A link to a comparison opens the area that compares layouts, one to a gearbox that of the gearbox.
        let begun = from_link.then(|| areas.beginning(&history.now().design)).flatten();
        let area = begun.or_else(|| first_visit.then(|| areas.first_visit()));
        let Unfinished { measured, refused } = unfinished;
        let history = RwSignal::new(history);
        let design = Memo::new(move |_| history.with(|h| h.now().design.clone()));
        let opened = Memo::new(move |_| history.with(|h| h.now().opened.clone()));
        let analysis = Memo::new(move |_| design.with(|d| Arc::new(Analysis::of(d))));
        let drawn = Memo::new(move |last: Option<&Arc<Analysis>>| {
            let now = analysis.get();
            match last {
                Some(last) if now.pair.is_none() => Arc::clone(last),
                _ => now,
            }
        });
        let found = Memo::new(move |_| drawn.with(|a| a.design.to_found()));
        let found = Memo::new(move |_| found.with(|d| Arc::new(Analysis::of(d))));
        let unturned = Memo::new(move |_| {
            let mut design = design.get();
            design.set(Slot::Setting(FieldId::Phase), 0.0);
            design
        });
        let unturned = Memo::new(move |_| unturned.with(|d| Arc::new(Analysis::of(d))));
        let errors = Memo::new(move |_| {
            let is_error = |f: &&Finding| f.severity == Severity::Error;
            analysis.with(|a| a.findings.iter().filter(is_error).cloned().collect())
        });
        let find_matters = RwSignal::new(None::<FindMatters>);
        let matters = Memo::new(move |_| {
            find_matters.get().map(|find| analysis.with(|a| find(a))).unwrap_or_default()
        });
        let area = RwSignal::new(area.unwrap_or(areas.first()).key);
        // Help and the like belong to no stage: the last one stays open.
        let stage = Memo::new(move |last: Option<&Stage>| {
            areas.find(area.get()).stage().or(last.copied()).unwrap_or(Stage::Pair)
        });
        let worked_in = Memo::new(move |last: Option<&AreaKey>| {
            let now = areas.find(area.get());
            let before = || last.copied().unwrap_or_else(|| areas.first().key);
            now.stage().map_or_else(before, |_| now.key)
        });
        let reel = Memo::new(move |_| Reel::of_shifts(&[drawn.get()]));
        let player = Player::new(reel.into());
        let posed = RwSignal::new(None);
        let pose = Memo::new(move |_| posed.get().or_else(|| drawn.with(|a| player.pose(a))));
        let units = RwSignal::new(kept_units());
        Self {
            history,
            areas,
            area,
            stage,
            worked_in,
            player,
            pose,
            posed,
            stroke: RwSignal::new(None),
            outcomes: RwSignal::new(None),
            boxed: RwSignal::new(None),
            photos: RwSignal::default(),
            spans: FigureSpans::new(analysis),
            cuts: CutSearch::new(analysis, units),
            given_up: RwSignal::new(0),
            analysis,
            errors,
            find_matters,
            matters,
            drawn,
            found,
            unturned,
            before: Memo::new(move |_| opened.with(|d| Arc::new(Analysis::of(d)))),
            chosen: RwSignal::new((Side::A, 0)),
            units,
            notice: RwSignal::new(notice),
            measured: RwSignal::new(measured),
            refused: StoredValue::new(refused),
            said: RwSignal::default(),
            flashed: RwSignal::default(),
            explained: RwSignal::new(None),
            dialog: RwSignal::new(None),
            printing: RwSignal::new(None),
            layout: PageLayout::remembered(),
            gone_to: StoredValue::new(None),
            from_friend: RwSignal::new(from_link),
            offline: RwSignal::new(false),
            told_not_kept: StoredValue::new(false),
            tab_storage: StoredValue::new_local(tab_storage),
            newer: RwSignal::new(None),
            reload_requested: StoredValue::new(false),
        }
    }

    /// The dog that the drawings show as selected: the chosen one while the inspector has it.
    pub(crate) fn selected(self) -> Option<(Side, usize)> {
        let inspected = self.layout.inspected.get() == Inspected::Dog;
        inspected.then(|| self.chosen.get())
    }

    /// Which state of the rings the drawings show. Without planned work there is one alone.
    pub(crate) fn rings_shown(self) -> RingState {
        let planned = self.drawn.with(|a| a.design.is_planned());
        if planned { self.layout.rings_shown.get() } else { RingState::AsCut }
    }

    /// The area that is on the screen.
    pub(crate) fn current_area(self) -> &'static Area<AnyView> {
        self.areas.find(self.area.get())
    }

    /// Opens an area. What was selected belongs to the area that is left.
    pub(crate) fn open_area(self, key: AreaKey) {
        if self.area.get_untracked() != key {
            self.layout.inspected.set(Inspected::Home);
            self.layout.left_check.set(None);
            self.area.set(key);
        }
    }

    /// The current design, gestures included.
    pub(crate) fn with<T>(self, read: impl FnOnce(&Design) -> T) -> T {
        self.history.with(|h| read(&h.now().design))
    }

    /// Changes the history, and updates the memos that depend on it before anything on the page reads them.
    ///
    /// The framework misses an update in one case: an effect reads memo A and then memo B, A depends on B, the
    /// effect is the first to read A after a change, and A turns out unchanged. The effect then does not run
    /// again although B has changed. Because the memos are read here first, no effect is ever the first.
    fn alter<T>(self, act: impl FnOnce(&mut History) -> T) -> T {
        let mut history = self.history.write();
        let done = act(&mut history);
        drop(history);
        self.analysis.with_untracked(|_| ());
        self.drawn.with_untracked(|_| ());
        self.errors.with_untracked(|_| ());
        self.matters.with_untracked(|_| ());
        self.pose.with_untracked(|_| ());
        done
    }

    /// Changes the design in one step.
    pub(crate) fn change(self, edit: impl FnOnce(&mut Design)) {
        self.alter(|history| {
            let mut draft = history.settled().clone();
            edit(&mut draft.design);
            history.apply(draft);
        });
        self.make_own();
        self.cut_short();
    }

    /// Opens the pair of a gear of the gearbox, with the shift into it up or down. That is no change: Undo goes back to
    /// what was changed before, in whatever gear that was.
    pub(crate) fn open_gear(self, gear: usize, shift: ShiftFrom) {
        let draft = self.history.with_untracked(|h| h.settled().with_gear(gear, shift));
        if let Some(draft) = draft {
            self.alter(|history| history.amend(draft));
            self.cut_short();
            self.say(here(whole::gear_opened(gear)));
        }
    }

    /// A design that was changed is one's own.
    fn make_own(self) {
        if self.from_friend.get_untracked() {
            self.from_friend.set(false);
        }
    }

    /// Ends a drag in progress when something else changes the design.
    fn cut_short(self) {
        self.given_up.update(|count| *count = count.wrapping_add(1));
        // The chosen place may no longer exist.
        let (side, place) = self.chosen.get_untracked();
        let places = self.history.with_untracked(|h| h.now().design.ring(side).places());
        if place >= places {
            self.chosen.set((side, places.saturating_sub(1)));
        }
    }

    /// Makes the design as it is now the one to compare with.
    pub(crate) fn compare_from_here(self) {
        self.alter(|history| {
            let mut draft = history.settled().clone();
            draft.opened.clone_from(&draft.design);
            history.apply(draft);
        });
    }

    /// Whether anything differs from the design as opened.
    pub(crate) fn is_changed(self) -> bool {
        self.history.with(|h| h.now().design != h.now().opened)
    }

    /// Undoes or redoes one step. Returns whether there was one.
    pub(crate) fn step(self, step: impl FnOnce(&mut History) -> bool) -> bool {
        let stepped = self.alter(step);
        self.cut_short();
        stepped
    }

    /// Undoes one step, and says so.
    pub(crate) fn undo(self) {
        if self.step(History::undo) {
            self.say(here(say::undone));
        }
    }

    /// Does one step again, and says so.
    pub(crate) fn redo(self) {
        if self.step(History::redo) {
            self.say(here(say::redone));
        }
    }

    /// Shows numbers during a gesture. [`AppState::commit`] turns the gesture into one step.
    pub(crate) fn preview(self, values: &[(Slot, f64)]) {
        self.alter(|history| {
            let mut draft = history.settled().clone();
            for &(slot, value) in values {
                draft.design.set_given(slot, value);
            }
            history.preview(draft);
        });
    }

    /// Cancels a gesture.
    pub(crate) fn cancel(self) {
        if self.step(History::cancel) {
            self.say(here(say::cancelled));
        }
    }

    /// A text that a field did not accept, and its number at that time.
    pub(crate) fn refused(self, field: &str) -> Option<(String, String)> {
        self.refused.with_value(|all| {
            let (_, text, stood) = all.iter().find(|(of, ..)| of == field)?;
            Some((text.clone(), stood.clone()))
        })
    }

    /// Remembers a text that a field does not accept; `None` forgets it.
    pub(crate) fn refuse(self, field: &str, refused: Option<(String, String)>) {
        self.refused.update_value(|all| {
            all.retain(|(of, ..)| of != field);
            all.extend(refused.map(|(text, stood)| (field.to_owned(), text, stood)));
        });
    }

    /// Chooses a dog, and with it the ring whose handles are shown.
    pub(crate) fn choose(self, side: Side, place: usize) {
        self.chosen.set((side, place));
        self.layout.inspected.set(Inspected::Dog);
        self.say(here(say::dog_selected(side, place)));
    }

    /// Explains a number above the sizes.
    pub(crate) fn explain(self, slot: Slot) {
        self.explained.set(Some(slot));
    }

    /// Ends a gesture, which becomes one step of the history.
    pub(crate) fn commit(self) {
        if self.history.with_untracked(History::in_gesture) {
            self.alter(History::commit);
            self.make_own();
        }
    }

    /// Makes another design the current one. The previous one stays in the history, and is kept.
    pub(crate) fn replace(self, design: Design) {
        self.put_on_board(Draft { place: tab_storage::random_name(), ..Draft::new(design) });
    }

    /// Makes a draft the current one, with the design that it is compared with.
    pub(crate) fn put_on_board(self, mut draft: Draft) {
        self.chosen.set((Side::A, 0));
        self.alter(|history| {
            // An unchanged design keeps its place.
            if history.settled().design == draft.design {
                draft.place.clone_from(&history.settled().place);
            }
            history.apply(draft);
        });
        self.cut_short();
    }

    /// Announces something to screen readers.
    pub(crate) fn say(self, text: impl Into<String>) {
        self.said.set(text.into());
    }

    /// Shows a brief message on the screen, and announces it to screen readers.
    pub(crate) fn flash(self, text: impl Into<String>) {
        let text = text.into();
        self.flashed.set(Some(text.clone()));
        self.say(text.clone());
        set_timeout(
            move || {
                // A later message stays.
                if self.flashed.with_untracked(|shown| shown.as_deref() == Some(&text)) {
                    self.flashed.set(None);
                }
            },
            FLASH,
        );
    }

    /// Shows a message above the drawings.
    pub(crate) fn tell(self, text: impl Into<String>, bad: bool) {
        self.notice.set(Some(Notice { text: text.into(), bad, offer: Offer::Nothing }));
    }

    /// Shows that another design is open, and what was found in it.
    pub(crate) fn tell_opened(self, opened: Message, findings: &[Finding]) {
        let told = [vec![opened], advice(findings), vec![say::undo_returns()]].concat();
        self.tell(here(told), !findings.is_empty());
    }

    /// The reader of the page: follows the units that are chosen.
    pub(crate) fn reader(self) -> Reader {
        Reader { units: self.units.get(), language: language() }
    }

    /// Changes the unit in which lengths are shown.
    pub(crate) fn show_lengths_in(self, length: LengthUnit) {
        self.show_in(DisplayUnits { length, ..self.units.get_untracked() });
    }

    /// Changes how angles are shown.
    pub(crate) fn show_angles_in(self, angle: AngleStyle) {
        self.show_in(DisplayUnits { angle, ..self.units.get_untracked() });
    }

    /// Changes the units in which numbers are shown, and remembers them.
    fn show_in(self, units: DisplayUnits) {
        self.units.set(units);
        let length = if units.length == LengthUnit::Inch { "in" } else { "mm" };
        let angle = if units.angle == AngleStyle::Dms { "dms" } else { "deg" };
        // If a preference cannot be kept, that is not worth a message.
        let _ = Store::Browser.put("crenel.units", &format!("{length} {angle}"));
    }
}

fn kept_units() -> DisplayUnits {
    let kept = Store::Browser.get("crenel.units").unwrap_or_default();
    DisplayUnits {
        length: if kept.contains("in") { LengthUnit::Inch } else { LengthUnit::Millimetre },
        angle: if kept.contains("dms") { AngleStyle::Dms } else { AngleStyle::Decimal },
    }
}
