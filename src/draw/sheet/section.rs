//! The section of one dog.

use crenel_words::drawing as say;

use super::super::scene::{Anchor, Role, Scene};
use super::notes::LINE_MM;
use super::{LETTER_MM, Sheet, dimension};
use crate::ring::{Dog, FlankSide, Point};
use crate::units::Angle;

impl Sheet<'_> {
    /// Section of a dog along its chord at the mean radius, below the plan: of one that is cut down,
    /// if there is one, with what comes off. A dog of more than half a turn has no chord worth
    /// drawing.
    pub(super) fn section(&self, scene: &mut Scene) {
        let under_half_turn = |dog: &&Dog| dog.tip_width < Angle::FULL / 2.0;
        let worked = |dog: &&Dog| self.found.dogs.iter().all(|old| old != *dog);
        let shorter = self.ring.dogs.iter().find(|dog| self.is_cut_down(dog));
        let cut = shorter.or_else(|| self.ring.dogs.iter().find(worked));
        let Some(dog) = cut.or(self.shown()).filter(under_half_turn) else { return };
        let base = -self.outer - 37.0 - dog.height_mm - dog.cut_down_mm;
        let at = |flank, depth| {
            Point::new(self.aside_mm(dog, flank, depth), base + dog.height_mm - depth)
        };
        let tip = FlankSide::BOTH.map(|flank| at(flank, 0.0));
        let root = FlankSide::BOTH.map(|flank| at(flank, dog.height_mm));
        scene.polygon(Role::Section, &[root[0], tip[0], tip[1], root[1]]).dog(self.side, dog.place);
        let half = self.ring.half_chord_mm(dog);
        let web = half + 6.0;
        scene
            .line(Role::Section, &[Point::new(-web, base), Point::new(web, base)])
            .on_ring(self.side);
        for off in self.off_section(dog, &at) {
            scene.polygon(Role::Removed, &off).dog(self.side, dog.place);
        }
        let above = 7.0 + dog.cut_down_mm;
        dimension::across(scene, tip[0], tip[1], above, &self.mm(tip[1].x - tip[0].x));
        let low = Point::new(web, base);
        let x = (half + 12.0).max(half / 2.0 + 19.0);
        dimension::height(scene, low, tip[1], x, &self.mm(dog.height_mm));
        self.caption(scene, dog, base);
    }

    /// What comes off in the section of a dog: its top, and a strip along each flank that is moved.
    fn off_section(&self, dog: &Dog, at: &impl Fn(FlankSide, f64) -> Point) -> Vec<[Point; 4]> {
        let Some(old) = self.found.at_place(dog.place) else {
            return Vec::new();
        };
        // Depths count from the tip as it is now.
        let tip = dog.cut_down_mm - old.cut_down_mm;
        let was = |flank: FlankSide, depth: f64| {
            let y = at(flank, depth).y;
            Point::new(self.aside_mm(old, flank, depth + tip), y)
        };
        let mut parts = Vec::new();
        if tip > 0.0 {
            let [drive, coast] = FlankSide::BOTH;
            parts.push([was(drive, 0.0), was(drive, -tip), was(coast, -tip), was(coast, 0.0)]);
        }
        for flank in FlankSide::BOTH {
            let (top, foot) = (0.0, dog.height_mm);
            let strip = [was(flank, top), was(flank, foot), at(flank, foot), at(flank, top)];
            let wide = (strip[0].x - strip[3].x).abs().max((strip[1].x - strip[2].x).abs());
            parts.extend((wide > 1e-6).then_some(strip));
        }
        parts
    }

    fn caption(&self, scene: &mut Scene, dog: &Dog, base: f64) {
        let beside = (self.ring.half_chord_mm(dog) / 2.0).max(1.5);
        let mut y = base - LETTER_MM;
        for (x, anchor, flank) in
            [(-beside, Anchor::End, say::drive()), (beside, Anchor::Start, say::coast())]
        {
            let flank = flank.show(self.reader);
            scene.text(Role::Note, Point::new(x, y), LETTER_MM, anchor, flank);
        }
        let mean = self.mm(2.0 * self.ring.mean_radius_mm());
        let section = match dog.cut_down_mm {
            0.0 => say::section(dog.place, mean),
            off => {
                let [from, to] = [off, 0.0].map(|off| self.mm(dog.height_mm + off));
                say::section_cut(dog.place, mean, from, to)
            }
        };
        let [drive, coast] = FlankSide::BOTH.map(|flank| dog.back_cut[flank].degrees());
        for line in [section, say::undercuts(drive, coast)] {
            y -= LINE_MM;
            let words = line.show(self.reader);
            scene.text(Role::Note, Point::new(0.0, y), LETTER_MM, Anchor::Middle, words);
        }
    }
}
