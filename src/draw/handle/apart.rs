//! Handles far enough apart for a finger.

use super::Handle;
use crate::draw::frame::Frame;
use crate::draw::scene::Bounds;
use crate::ring::Point;

/// Least distance between two handles, in letter heights: 48 px.
pub(crate) const APART: f64 = 4.0;

/// What is left free at the sides of the paper, in letter heights: 24 px, where a phone takes a swipe for its own.
const SIDE_EDGE: f64 = 2.0;

/// What is left free at its top and foot: 12 px, so that the picture of a handle is on the paper.
const EDGE: f64 = 1.0;

/// Rounds of moving them apart. Where so many have no room, some stay nearer.
const ROUNDS: u8 = 100;

/// Moves what is shown of handles off the edge of the paper and off each other.
pub(crate) fn keep_apart(handles: &mut [Handle], frame: &Frame) {
    let apart = APART * frame.text_mm;
    for _ in 0..ROUNDS {
        handles.iter_mut().for_each(|handle| handle.shown = inside(frame, handle.shown));
        let mut moved = false;
        for at in 0..handles.len() {
            for other in at + 1..handles.len() {
                moved |= part(handles, [at, other], apart);
            }
        }
        if !moved {
            return;
        }
    }
    handles.iter_mut().for_each(|handle| handle.shown = inside(frame, handle.shown));
}

/// Moves two handles apart by what is missing, half each. Returns whether anything was missing.
fn part(handles: &mut [Handle], [one, other]: [usize; 2], apart: f64) -> bool {
    let (a, b) = (handles[one].shown, handles[other].shown);
    let far = a.distance(b);
    let missing = apart - far;
    if missing <= 1e-3 * apart {
        return false;
    }
    // Two on one spot go up and down.
    let along = if far > 1e-6 * apart {
        Point::new(b.x - a.x, b.y - a.y).angle()
    } else {
        std::f64::consts::FRAC_PI_2
    };
    // A little more than is missing, so that it comes to an end.
    let by = Point::polar(0.5 * missing + 1e-3 * apart, along);
    handles[one].shown = Point::new(a.x - by.x, a.y - by.y);
    handles[other].shown = Point::new(b.x + by.x, b.y + by.y);
    true
}

fn inside(frame: &Frame, p: Point) -> Point {
    let Bounds { min, max } = frame.bounds;
    let within = |v: f64, edge: f64, low: f64, high: f64| {
        v.min(high - edge * frame.text_mm).max(low + edge * frame.text_mm)
    };
    Point::new(within(p.x, SIDE_EDGE, min.x, max.x), within(p.y, EDGE, min.y, max.y))
}
