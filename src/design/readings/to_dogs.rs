//! From readings to dogs.

use std::collections::BTreeSet;

use crenel_words::{Message, Phrase, Value, measured as say, page};

use super::check::{CellFault, Wrong, shown};
use super::{Column, Readings};
use crate::design::{DogSpec, EvenLayout, Layout, RingSpec};
use crate::fields::FieldId;
use crate::gauging::{
    Checked, Contact, Fit, Fitted, Origin, Reading, Shape, Size, Spread, contact,
    contact_by_spacing, fit,
};
use crate::units::{Angle, Quantity};

/// Each way to spread the closing error, with its word in files and its name.
pub const SPREADS: [(&str, Spread, Phrase); 4] = [
    ("equally", Spread::Equally, page::measured::spread_equally),
    ("gaps", Spread::IntoGaps, page::measured::spread_into_gaps),
    ("uncertainty", Spread::ByUncertainty, page::measured::spread_by_uncertainty),
    ("not", Spread::NotAtAll, page::measured::spread_not_at_all),
];

/// Places after the decimal point that are kept of a size, mm or degrees: far below what can be measured.
const KEPT: f64 = 1e4;

/// The sizes of a dog, by their fields, with the factor to the unit of the field.
const SIZES: [(Size, FieldId); 6] = [
    (Size::Width, FieldId::TipWidth),
    (Size::Height, FieldId::Height),
    (Size::BackCutDrive, FieldId::BackCutDrive),
    (Size::BackCutCoast, FieldId::BackCutCoast),
    (Size::EdgeBreak, FieldId::EdgeBreak),
    (Size::RootFillet, FieldId::RootFillet),
];

/// A dog that follows from readings.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugedDog {
    /// Its sizes.
    pub spec: DogSpec,
    /// Each size with its standard uncertainty in the unit of its field, and where it comes from.
    pub sizes: Vec<(FieldId, Fitted, Origin)>,
}

/// A ring that follows from readings.
#[derive(Clone, Debug, PartialEq)]
pub struct GaugedRing {
    /// Its dogs.
    pub dogs: Vec<GaugedDog>,
    /// How much dogs and gaps together fall short of 360°, degrees; `None` if the circle was needed to find them.
    pub closing: Option<Fitted>,
    /// Each reading that was used, by column and dog.
    pub checked: Vec<((usize, usize), Checked)>,
    /// What is wrong: single numbers, marked readings, the closing error.
    pub faults: Vec<CellFault>,
    /// What the spacing of the drive flanks says by itself.
    pub spacing: Option<Contact>,
    /// What the contact marks say.
    pub contact: Option<Contact>,
}

impl GaugedRing {
    /// The sizes of the dogs alone.
    pub fn specs(&self) -> Vec<DogSpec> {
        self.dogs.iter().map(|dog| dog.spec).collect()
    }
}

impl RingSpec {
    /// The dogs that the readings of this ring give; sizes that were not measured stay as they are. `None` without
    /// readings.
    pub fn gauged(&self) -> Option<GaugedRing> {
        let readings = self.readings.as_ref()?;
        let mut faults = readings.check();
        let used = readings.used(&faults);
        let list: Vec<Reading> = used.iter().map(|(_, reading)| *reading).collect();
        let Ok(fit) = fit(&self.start(readings), &list) else {
            faults.push(CellFault { at: Wrong::Whole, says: say::out_of_reach() });
            return Some(GaugedRing {
                dogs: Vec::new(),
                closing: None,
                checked: Vec::new(),
                faults,
                spacing: None,
                contact: None,
            });
        };
        faults.extend(readings.grave(&fit, &used));
        let dogs: Vec<_> = (0..readings.dogs).map(|place| self.gauged_dog(&fit, place)).collect();
        Some(GaugedRing {
            closing: fit.closing().map(to_degrees),
            checked: used.iter().map(|(at, _)| *at).zip(fit.checked.iter().copied()).collect(),
            faults,
            spacing: readings.spacing(&fit),
            contact: readings.contact_of(&dogs),
            dogs,
        })
    }

    /// Which dogs have sizes that the readings do not give: somebody typed them by hand since.
    pub fn typed_by_hand(&self) -> Vec<bool> {
        let dogs = self.gauged().map(|ring| ring.specs()).unwrap_or_default();
        let is_same = |(given, gauged): (&DogSpec, &DogSpec)| {
            given.all().zip(gauged.all()).all(|((_, a), (_, b))| (a - b).abs() < 1.5 / KEPT)
        };
        match &self.layout {
            Layout::Measured(given) if given.len() == dogs.len() => {
                given.iter().zip(&dogs).map(|pair| !is_same(pair)).collect()
            }
            _ => vec![true; self.places()],
        }
    }

    /// Empty readings for the dogs of this ring.
    pub fn blank_readings(&self) -> Readings {
        Readings::new(self.standing().len().max(1))
    }

    /// The dogs that are there, with their places.
    pub(super) fn standing(&self) -> Vec<(usize, DogSpec)> {
        let dogs = self.found_dogs().into_iter().enumerate();
        dogs.filter(|(_, dog)| dog.height_mm > 0.0).collect()
    }

    /// A dog as it is now, for what was not measured.
    fn kept(&self, place: usize) -> DogSpec {
        let standing = self.standing();
        let like = standing.get(place).or_else(|| standing.last());
        like.map_or_else(|| EvenLayout::default().dogs()[0], |(_, dog)| *dog)
    }

    /// The ring to start from: evenly spaced, so that it is plain which readings tell sizes apart.
    fn start(&self, readings: &Readings) -> Shape {
        let mean_mm = (self.inner_diameter_mm + self.outer_diameter_mm) / 4.0;
        let mut shape = Shape::even(readings.dogs, mean_mm);
        shape.form = self.form;
        shape.reach_mm = readings.used_reach_mm();
        shape.datum = readings.datum;
        let pitch = 360.0 / readings.dogs as f64;
        let widths = (0..readings.dogs).map(|place| self.kept(place).tip_width_deg);
        let width = (widths.sum::<f64>() / readings.dogs as f64).clamp(pitch / 20.0, pitch * 0.95);
        for place in 0..readings.dogs {
            let dog = self.kept(place);
            for (size, id) in SIZES {
                let value = dog.field(id).unwrap_or_default();
                shape =
                    shape.with(size, place, if is_angle(id) { value.to_radians() } else { value });
            }
            shape = shape.with(Size::Width, place, width.to_radians());
            shape = shape.with(Size::Gap, place, (pitch - width).to_radians());
        }
        shape
    }

    fn gauged_dog(&self, fit: &Fit, place: usize) -> GaugedDog {
        let spread = self.readings.as_ref().map_or(Spread::Equally, |readings| readings.spread);
        let mut spec = self.kept(place);
        let mut sizes = Vec::new();
        let mut put = |id: FieldId, fitted: Fitted, origin| {
            let fitted = if is_angle(id) { to_degrees(fitted) } else { fitted };
            if let Some(own) = spec.field_mut(id).filter(|_| origin != Origin::Kept) {
                *own = (fitted.value * KEPT).round() / KEPT;
            }
            sizes.push((id, fitted, origin));
        };
        for (size, id) in SIZES {
            put(id, fit.size(size, place, spread), fit.origin(size, place));
        }
        let is_spaced = |size| (0..fit.dogs()).any(|at| fit.origin(size, at) == Origin::Measured);
        let is_placed = is_spaced(Size::Gap) || is_spaced(Size::Width);
        let origin = if is_placed { Origin::Measured } else { Origin::Kept };
        let centre = fit.centre(place, spread);
        let value = Angle::from_radians(centre.value).wrapped().radians();
        put(FieldId::Centre, Fitted { value, ..centre }, origin);
        if !is_placed {
            spec.tip_width_deg = self.kept(place).tip_width_deg;
        }
        GaugedDog { spec, sizes }
    }
}

impl Readings {
    /// The readings without a fault, by column and dog.
    fn used(&self, faults: &[CellFault]) -> Vec<((usize, usize), Reading)> {
        let wrong: BTreeSet<Wrong> = faults.iter().map(|fault| fault.at).collect();
        let is_right = |column: usize, dog: usize| {
            let places = [Wrong::SetAt(column), Wrong::Sigma(column), Wrong::Cell(column, dog)];
            !places.iter().any(|place| wrong.contains(place))
        };
        let columns = self.columns.iter().enumerate();
        let cells = columns.flat_map(|(at, column)| {
            let read = column.cells.iter().enumerate();
            read.filter_map(move |(dog, read)| Some(((at, dog), column.reading(dog, (*read)?))))
        });
        cells.filter(|((column, dog), _)| is_right(*column, *dog)).collect()
    }

    /// Marked readings, and a closing error that is too large.
    fn grave(&self, fit: &Fit, used: &[((usize, usize), Reading)]) -> Vec<CellFault> {
        let marked = used.iter().zip(&fit.checked).filter(|(_, checked)| checked.marked);
        let mut faults: Vec<_> = marked
            .map(|((at, _), checked)| {
                let show = |value| shown(self.columns[at.0].kind.quantity, value);
                let sigma = checked.sigma.unwrap_or_default();
                let sigma = Value::Size(self.columns[at.0].kind.quantity, sigma);
                let says = say::gross_error(at.1, show(checked.residual), sigma);
                CellFault { at: Wrong::Cell(at.0, at.1), says }
            })
            .collect();
        if let Some(off) = fit.closing().map(to_degrees).filter(|_| fit.is_closing_marked()) {
            let says = say::closing_error(off.value, off.sigma);
            faults.push(CellFault { at: Wrong::Whole, says });
        }
        faults
    }

    /// What the drive flanks as measured say. `None` unless every gap or flank was.
    fn spacing(&self, fit: &Fit) -> Option<Contact> {
        let is_measured = |size, place| fit.origin(size, place) == Origin::Measured;
        let places = 0..self.dogs;
        let known = places.clone().filter(|p| is_measured(Size::Gap, *p)).count();
        if known + 1 < self.dogs || !places.clone().all(|p| is_measured(Size::Width, p)) {
            return None;
        }
        let pitch = std::f64::consts::TAU / self.dogs as f64;
        let dogs: Vec<(f64, f64)> = places
            .clone()
            .map(|place| {
                let half = fit.size(Size::Width, place, self.spread).value / 2.0;
                let at = fit.centre(place, self.spread).value;
                (at, at - half - pitch * place as f64)
            })
            .collect();
        let sigma = places.map(|place| fit.centre(place, self.spread).sigma).fold(0.0, f64::max);
        contact_by_spacing(&dogs, sigma)
    }

    fn contact_of(&self, dogs: &[GaugedDog]) -> Option<Contact> {
        let at = |(place, dog): (usize, &GaugedDog)| {
            (dog.spec.centre_deg.to_radians(), self.contact.contains(&place))
        };
        contact(&dogs.iter().enumerate().map(at).collect::<Vec<_>>())
    }
}

impl Column {
    fn reading(&self, place: usize, value: f64) -> Reading {
        let period = (self.kind.period)(self.set_at);
        let Self { set_at, sigma, .. } = *self;
        Reading { period, ..Reading::new(self.kind.gauge, place, set_at, value, sigma) }
    }
}

/// The sentence for a pattern of contact.
pub fn contact_words(contact: Contact) -> Message {
    match contact {
        Contact::All => say::all_carry(),
        Contact::OneDog { place, stands_out: true } => say::stands_out(place),
        Contact::OneDog { place, stands_out: false } => say::stands_back(place),
        Contact::OneSide { toward } => say::one_side(toward.to_degrees()),
        Contact::Scattered => say::scattered(),
    }
}

fn is_angle(id: FieldId) -> bool {
    id.spec().quantity == Quantity::Angle
}

const fn to_degrees(fitted: Fitted) -> Fitted {
    Fitted { value: fitted.value.to_degrees(), sigma: fitted.sigma.to_degrees() }
}
