//! What a file holds beside its drawing: header, tables, blocks, objects.

use std::fmt::Display;

use super::layers::{Layer, PATTERNS, Pattern, pen};
use super::{CAPITALS, MODEL, PAPER, Writer};
use crate::draw::{Line, Scene};
use crate::ring::Point;

impl Writer {
    pub(super) fn header(&mut self, scene: &Scene) {
        let next = format!("{:X}", self.last + 1);
        self.variable("ACADVER", 1, "AC1015");
        self.variable("DWGCODEPAGE", 3, "ANSI_1252");
        self.variable("HANDSEED", 5, next);
        for (name, corner) in [("EXTMIN", scene.bounds.min), ("EXTMAX", scene.bounds.max)] {
            self.pair(9, format!("${name}"));
            self.point(10, corner);
        }
        self.variable("LTSCALE", 40, "1.0");
        self.variable("CLAYER", 8, "0");
        // 2: decimal numbers; 0: decimal degrees; 1: metric line types; 4: millimetres.
        for (name, value) in
            [("LUNITS", 2), ("LUPREC", 4), ("AUNITS", 0), ("MEASUREMENT", 1), ("INSUNITS", 4)]
        {
            self.variable(name, 70, value);
        }
        self.variable("LWDISPLAY", 290, 1);
    }

    fn variable(&mut self, name: &str, code: u16, value: impl Display) {
        self.pair(9, format!("${name}"));
        self.pair(code, value);
    }

    pub(super) fn tables(&mut self, scene: &Scene, layers: &[Layer]) {
        self.table("VPORT", 1, |w, table| w.view_port(table, scene));
        self.table("LTYPE", PATTERNS.len(), |w, table| {
            PATTERNS.iter().for_each(|pattern| w.line_type(table, pattern));
        });
        self.table("LAYER", layers.len() + 1, |w, table| {
            w.layer(table, "0", 7, Line::None);
            layers.iter().for_each(|l| w.layer(table, l.name(), l.colour(), l.line()));
        });
        self.table("STYLE", 1, Self::text_style);
        self.table("VIEW", 0, |_, _| {});
        self.table("UCS", 0, |_, _| {});
        self.table("APPID", 1, |w, table| w.record(table, "APPID", "AcDbRegApp", "ACAD"));
        self.dimension_styles();
        self.table("BLOCK_RECORD", 2, |w, table| {
            w.block_record(table, MODEL, "*Model_Space");
            w.block_record(table, PAPER, "*Paper_Space");
        });
    }

    fn table(&mut self, name: &str, entries: usize, content: impl FnOnce(&mut Self, u32)) {
        let handle = self.table_head(name, entries);
        content(self, handle);
        self.pair(0, "ENDTAB");
    }

    fn table_head(&mut self, name: &str, entries: usize) -> u32 {
        let handle = self.handle();
        self.pairs([(0, "TABLE"), (2, name)]);
        self.owned(handle, 0);
        self.pair(100, "AcDbSymbolTable");
        self.pair(70, entries);
        handle
    }

    pub(super) fn owned(&mut self, handle: u32, owner: u32) {
        self.pairs([(5, handle), (330, owner)].map(|(code, h)| (code, format!("{h:X}"))));
    }

    /// The head of a table entry: everything up to its name and its flags.
    fn record(&mut self, table: u32, kind: &str, class: &str, name: &str) {
        let handle = self.handle();
        self.pair(0, kind);
        self.owned(handle, table);
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, class), (2, name), (70, "0")]);
    }

    /// The window of the screen on opening: the whole drawing.
    fn view_port(&mut self, table: u32, scene: &Scene) {
        let (min, max) = (scene.bounds.min, scene.bounds.max);
        self.record(table, "VPORT", "AcDbViewportTableRecord", "*Active");
        self.reals([(10, 0.0), (20, 0.0), (11, 1.0), (21, 1.0)]);
        self.reals([(12, (min.x + max.x) / 2.0), (22, (min.y + max.y) / 2.0)]);
        self.reals([(13, 0.0), (23, 0.0), (14, 1.0), (24, 1.0), (15, 10.0), (25, 10.0)]);
        self.reals([(16, 0.0), (26, 0.0), (36, 1.0), (17, 0.0), (27, 0.0), (37, 0.0)]);
        let aspect = scene.bounds.width() / scene.bounds.height();
        self.reals([(40, scene.bounds.height()), (41, aspect), (42, 50.0), (43, 0.0), (44, 0.0)]);
        self.reals([(50, 0.0), (51, 0.0)]);
        self.pairs([(71, 0), (72, 1000), (73, 1), (74, 3), (75, 0), (76, 0), (77, 0), (78, 0)]);
    }

    fn line_type(&mut self, table: u32, &(name, looks, dashes): &Pattern) {
        self.record(table, "LTYPE", "AcDbLinetypeTableRecord", name);
        self.pair(3, looks);
        self.pair(72, 65);
        self.pair(73, dashes.len());
        self.real(40, dashes.iter().map(|dash| dash.abs()).sum());
        for &dash in dashes {
            self.real(49, dash);
            self.pair(74, 0);
        }
    }

    fn layer(&mut self, table: u32, name: &str, colour: u8, line: Line) {
        let ((line_type, ..), width) = pen(line);
        self.record(table, "LAYER", "AcDbLayerTableRecord", name);
        self.pair(62, colour);
        self.pair(6, line_type);
        self.pair(370, width);
    }

    fn text_style(&mut self, table: u32) {
        self.record(table, "STYLE", "AcDbTextStyleTableRecord", "STANDARD");
        self.reals([(40, 0.0), (41, 1.0), (50, 0.0)]);
        self.pair(71, 0);
        self.real(42, CAPITALS);
        // A font with Ø, °, “ and –, which the old stroke fonts do not all have.
        self.pairs([(3, "arial.ttf"), (4, "")]);
    }

    /// The one table that has its own class and whose entries have another code for the handle.
    fn dimension_styles(&mut self) {
        let table = self.table_head("DIMSTYLE", 1);
        self.pair(100, "AcDbDimStyleTable");
        self.pair(71, 0);
        let handle = self.handle();
        self.pair(0, "DIMSTYLE");
        self.pairs([(105, handle), (330, table)].map(|(code, h)| (code, format!("{h:X}"))));
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, "AcDbDimStyleTableRecord")]);
        self.pairs([(2, "STANDARD"), (70, "0"), (0, "ENDTAB")]);
    }

    fn block_record(&mut self, table: u32, handle: u32, name: &str) {
        self.pair(0, "BLOCK_RECORD");
        self.owned(handle, table);
        self.pairs([(100, "AcDbSymbolTableRecord"), (100, "AcDbBlockTableRecord"), (2, name)]);
    }

    pub(super) fn blocks(&mut self) {
        for (record, name) in [(MODEL, "*Model_Space"), (PAPER, "*Paper_Space")] {
            self.entity("BLOCK", record, "AcDbBlockBegin");
            self.pairs([(2, name), (70, "0")]);
            self.point(10, Point::default());
            self.pairs([(3, name), (1, "")]);
            self.entity("ENDBLK", record, "AcDbBlockEnd");
        }
    }

    /// The root dictionary, which must name a dictionary of groups, even an empty one.
    pub(super) fn objects(&mut self) {
        let (root, groups) = (self.handle(), self.handle());
        self.dictionary(root, 0);
        self.pair(3, "ACAD_GROUP");
        self.pair(350, format!("{groups:X}"));
        self.dictionary(groups, root);
    }

    fn dictionary(&mut self, handle: u32, owner: u32) {
        self.pair(0, "DICTIONARY");
        self.owned(handle, owner);
        self.pair(100, "AcDbDictionary");
        self.pair(281, 1);
    }
}
