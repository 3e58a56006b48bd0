//! Where to measure for each check: sketches of a few lines, in a field of 160 × 100.

/// A sketch in the notation of SVG paths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sketch {
    /// The part that is held still.
    pub still: &'static str,
    /// The part that moves; empty where nothing does.
    pub moving: &'static str,
    /// Where the gauge goes, or what is looked at.
    pub gauge: &'static str,
}

const fn sketch(still: &'static str, moving: &'static str, gauge: &'static str) -> Sketch {
    Sketch { still, moving, gauge }
}

pub(super) const CLUTCH_RELEASE: Sketch = sketch(
    "M20 25V75M30 18V82M40 25V75M50 18V82M10 50H60",
    "M135 50a27 27 0 1 1-54 0a27 27 0 1 1 54 0M108 48v4",
    "M82 16a40 40 0 0 1 52 0l-3-9m3 9l-9 1",
);
pub(super) const ROD_ANGLE: Sketch = sketch(
    "M120 82m-6 0a6 6 0 1 0 12 0a6 6 0 1 0-12 0M106 94h28",
    "M120 82V28L20 44",
    "M97 32A23 23 0 0 0 120 53",
);
pub(super) const PEDAL_REACH: Sketch = sketch(
    "M22 72h16M30 60m-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0M104 16h36",
    "M35 60H120M120 50v20",
    "M120 20v26m-5-7l5 7l5-7m-10-12l5-7l5 7",
);
pub(super) const STOP_GAP: Sketch = sketch(
    "M92 50m-10 0a10 10 0 1 0 20 0a10 10 0 1 0-20 0M50 96A70 70 0 0 1 150 70",
    "M10 84L56 60L66 26L74 28L72 66L30 94Z",
    "M76 16h4v70h-4Z",
);
pub(super) const EQUAL_GAPS: Sketch = sketch(
    "M80 50m-10 0a10 10 0 1 0 20 0a10 10 0 1 0-20 0",
    "M20 92L52 68L56 28L63 30L60 78ZM140 92L108 68L104 28L97 30L100 78Z",
    "M65 18h4v66h-4ZM91 18h4v66h-4Z",
);
pub(super) const DETENT_RETURN: Sketch = sketch(
    "M25 96A55 55 0 0 1 68 48Q80 62 92 48A55 55 0 0 1 135 96",
    "M80 42m-11 0a11 11 0 1 0 22 0a11 11 0 1 0-22 0M80 31V8",
    "M128 84l22-22m0 10v-10h-10",
);
pub(super) const DRUM_ROCKING: Sketch = sketch(
    "M80 62m-30 0a30 30 0 1 0 60 0a30 30 0 1 0-60 0M80 60v4",
    "M80 32V14M73 14h14",
    "M48 24A48 48 0 0 1 112 24m-9 0l9 0l-1-9M48 24l9 0m-9 0l1-9",
);
pub(super) const NEUTRAL_CLEARANCE: Sketch = sketch(
    "M110 14h30v76h-30V74h-20V58h20V46h-20V30h20Z",
    "M20 14h20v76H20ZM40 36h20v14H40ZM40 66h20v14H40Z",
    "M60 26V4M90 26V4M60 10h30m-6-4l6 4l-6 4M66 6l-6 4l6 4",
);
pub(super) const ENGAGED_DEPTH: Sketch = sketch(
    "M112 14h30v76h-30V74H86V60h26V46H86V32h26Z",
    "M18 14h24v76H18ZM42 18h58v12H42ZM42 47h58v12H42ZM42 76h58v12H42Z",
    "M86 96V4M100 96V4M78 8h30",
);
pub(super) const FORK_PLAY: Sketch =
    sketch("M18 24h38v62H18ZM104 24h38v62h-38ZM56 62h48", "M62 6h34v48H62Z", "M97 10h6v44h-6Z");
pub(super) const TIP_FACES: Sketch =
    sketch("M50 90V42h60V90M16 90h128", "", "M50 40h60M60 30l6-14M80 30V14M100 30l-6-14");
pub(super) const TIP_EDGES: Sketch =
    sketch("M50 90V42h42q18 0 18 18V90M16 90h128", "", "M92 42q18 0 18 18M126 24l-17 19m0-9v9h9");
pub(super) const DRIVE_FLANKS: Sketch = sketch(
    "M60 90L50 42h60L100 90M16 90h128",
    "",
    "M50 42V90M50 74q4 2 7 0M22 62h24m-8-5l8 5l-8 5",
);
pub(super) const COAST_FLANKS: Sketch = sketch(
    "M60 90L50 42h60L100 90M16 90h128",
    "",
    "M110 42V90M110 74q-4 2-7 0M138 62h-24m8-5l-8 5l8 5",
);
pub(super) const ENTRY_TIME: Sketch = sketch(
    "M16 84h34V54H16ZM110 84h34V54h-34Z",
    "M64 40h32V10H64Z",
    "M50 92h60m-7-4l7 4l-7 4M57 88l-7 4l7 4M80 43v16m-5-6l5 6l5-6",
);
pub(super) const LASH: Sketch = sketch(
    "M16 86V46h28V86M116 86V46h28V86",
    "M58 74V32h30V74",
    "M44 94h14M88 94h28M40 20h44m-7-5l7 5l-7 5M47 15l-7 5l7 5",
);
pub(super) const CLUNK: Sketch = sketch(
    "M106 86V36h30V86",
    "M34 76V26h30V76",
    "M68 50h32m-8-5l8 5l-8 5M96 20l6 8M108 16v10M120 20l-6 8",
);
#[cfg(test)]
pub(super) const DUMMY: Sketch = sketch("M10 10h50v50h-50Z", "", "M70 10h20");
