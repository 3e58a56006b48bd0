//! A scene on the page. Elements are created once; afterwards only attributes that changed are written.

use leptos::prelude::*;
use web_sys::Element;

use crenel::draw::{Bounds, Item, ItemKey, Scene};
use crenel::export::{SvgMark, svg_mark, svg_tag, svg_turn};
use crenel::units::Angle;

/// The marks of a scene, for an `svg` element. Names, attributes and words are those of the exported file.
#[component]
pub(crate) fn SceneMarks(#[prop(into)] scene: Signal<Scene>) -> impl IntoView {
    let group = NodeRef::<leptos::svg::G>::new();
    let painted = StoredValue::new_local(Painted::default());
    Effect::new(move |_| {
        let Some(group) = group.get() else { return };
        scene.with(|scene| painted.update_value(|painted| painted.show(&group, scene)));
    });
    view! { <g aria-hidden="true" node_ref=group></g> }
}

/// The elements of a scene on the page.
#[derive(Default)]
struct Painted {
    /// The bounds of the scene. If its origin moves, every coordinate changes.
    bounds: Option<Bounds>,
    nodes: Vec<Node>,
}

/// The identity of an element while the drawing changes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Item(ItemKey),
    /// The turned group, counted from the back.
    Turned(usize),
}

/// An element on the page with its mark.
struct Node {
    key: Key,
    element: Element,
    shows: Shows,
}

enum Shows {
    Nothing,
    Item(Item, SvgMark),
    Turned(Angle, Vec<Node>),
}

/// The marks to show, back to front.
enum Wanted<'a> {
    Item(Key, &'a Item),
    Turned(Key, Angle, Vec<Self>),
}

impl Wanted<'_> {
    const fn key(&self) -> Key {
        match self {
            Self::Item(key, _) | Self::Turned(key, ..) => *key,
        }
    }

    const fn tag(&self) -> &'static str {
        match self {
            Self::Item(_, item) => svg_tag(&item.shape),
            Self::Turned(..) => "g",
        }
    }
}

/// The runs of a scene. Items turned alike are one group.
fn wanted(scene: &Scene) -> Vec<Wanted<'_>> {
    let mut keys = scene.keys().into_iter();
    let mut all = Vec::new();
    let mut groups = 0;
    for (turned, run) in scene.runs() {
        let items =
            run.iter().zip(keys.by_ref()).map(|(item, key)| Wanted::Item(Key::Item(key), item));
        match turned {
            Some(by) => {
                all.push(Wanted::Turned(Key::Turned(groups), by, items.collect()));
                groups += 1;
            }
            None => all.extend(items),
        }
    }
    all
}

impl Painted {
    fn show(&mut self, parent: &Element, scene: &Scene) {
        let begins = |bounds: &Bounds| (bounds.min.x, bounds.max.y);
        let moved = self.bounds.as_ref().map(begins) != Some(begins(&scene.bounds));
        if self.bounds.is_none() {
            // The element may come from the drawings of another area, with their marks still in it.
            parent.set_text_content(None);
        }
        self.bounds = Some(scene.bounds);
        let page = Page { bounds: &scene.bounds, moved };
        page.patch(parent, &mut self.nodes, &wanted(scene));
    }
}

/// How the scene is placed on the page.
struct Page<'a> {
    bounds: &'a Bounds,
    /// Whether the origin of the scene has moved.
    moved: bool,
}

impl Page<'_> {
    /// Makes the children of an element show the marks wanted. Elements with the same key are kept.
    fn patch(&self, parent: &Element, nodes: &mut Vec<Node>, wanted: &[Wanted]) {
        if !nodes.iter().map(|node| node.key).eq(wanted.iter().map(Wanted::key)) {
            let mut kept: Vec<_> = wanted.iter().map(Wanted::key).collect();
            kept.sort_unstable();
            nodes.retain(|node| {
                let stays = kept.binary_search(&node.key).is_ok();
                if !stays {
                    node.element.remove();
                }
                stays
            });
            for (at, want) in wanted.iter().enumerate() {
                bring(parent, nodes, at, want);
            }
        }
        for (node, want) in nodes.iter_mut().zip(wanted) {
            self.show(node, want);
        }
    }

    fn show(&self, node: &mut Node, want: &Wanted) {
        match (&mut node.shows, want) {
            (Shows::Item(old, _), Wanted::Item(_, item)) if !self.moved && *old == **item => {}
            (shows, Wanted::Item(_, item)) => {
                let mark = svg_mark(self.bounds, item);
                let before = if let Shows::Item(_, before) = shows { Some(&*before) } else { None };
                write(&node.element, before, &mark);
                *shows = Shows::Item((*item).clone(), mark);
            }
            (Shows::Turned(old, below), Wanted::Turned(_, by, items)) => {
                if self.moved || old != by {
                    set(&node.element, "transform", &svg_turn(self.bounds, *by));
                    *old = *by;
                }
                self.patch(&node.element, below, items);
            }
            (shows, Wanted::Turned(_, by, items)) => {
                set(&node.element, "transform", &svg_turn(self.bounds, *by));
                let mut below = Vec::new();
                self.patch(&node.element, &mut below, items);
                *shows = Shows::Turned(*by, below);
            }
        }
    }
}

/// Puts the element of a key in its place: the existing one, or a new one.
fn bring(parent: &Element, nodes: &mut Vec<Node>, at: usize, want: &Wanted) {
    let key = want.key();
    let node = match nodes[at..].iter().position(|node| node.key == key) {
        Some(0) => return,
        Some(later) => nodes.remove(at + later),
        None => match create(want.tag()) {
            Some(element) => Node { key, element, shows: Shows::Nothing },
            None => return,
        },
    };
    let next = nodes.get(at).map(|node| node.element.as_ref());
    // Fails only if somebody else changed the page.
    let _ = parent.insert_before(&node.element, next);
    nodes.insert(at, node);
}

fn create(tag: &str) -> Option<Element> {
    document().create_element_ns(Some("http://www.w3.org/2000/svg"), tag).ok()
}

/// Writes the parts of a mark that differ from the page.
fn write(element: &Element, before: Option<&SvgMark>, mark: &SvgMark) {
    for (name, value) in &mark.attributes {
        if before.and_then(|before| before.attribute(name)) != Some(value) {
            set(element, name, value);
        }
    }
    if before.and_then(|before| before.words.as_ref()) != mark.words.as_ref() {
        element.set_text_content(mark.words.as_deref());
    }
}

fn set(element: &Element, name: &str, value: &str) {
    // Fails only for an invalid name.
    let _ = element.set_attribute(name, value);
}
