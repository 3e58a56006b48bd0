//! Many files in one ZIP archive.

use std::io::{self, Write as _};

use miniz_oxide::deflate::compress_to_vec;
use rawzip::{CompressionMethod, ZipArchiveWriter};

use super::kind::{Export, ExportFile, ExportInput};
use super::{EXPORTS, Place};
use crate::gearset::GearsetAnalysis;
use crate::report::gearset_report;

/// How hard files are packed: STEP and STL become a fifth to a tenth, and more effort gains little.
const EFFORT: u8 = 6;

/// Packs files into a ZIP archive under their names; a name with `/` is in a folder.
///
/// # Errors
/// If a name is no path of an archive, or there is too much for one.
pub fn archive(files: &[ExportFile]) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let mut archive = ZipArchiveWriter::new(&mut bytes);
    for file in files {
        let new = archive.new_file(&file.name).compression_method(CompressionMethod::DEFLATE);
        let (mut entry, config) = new.start().map_err(io::Error::other)?;
        // Size and checksum are those of the plain bytes.
        let mut plain = config.wrap(io::sink());
        plain.write_all(&file.bytes)?;
        let (_, described) = plain.finish().map_err(io::Error::other)?;
        entry.write_all(&compress_to_vec(&file.bytes, EFFORT))?;
        entry.finish(described).map_err(io::Error::other)?;
    }
    archive.finish().map_err(io::Error::other)?;
    Ok(bytes)
}

/// The files of one gear of a gearbox for an archive, in a folder of their own: drawing, index positions and solids of both
/// rings, and the report. What the design of the gear has nothing for is left out.
pub fn gear_files(input: &ExportInput, gear: usize) -> Vec<ExportFile> {
    let wanted = Export::all(EXPORTS).into_iter().filter(|export| {
        export.place() == Place::Menu && (export.is_of_ring() || export.name().ends_with(".json"))
    });
    let made = wanted.filter_map(|export| export.make(input).ok());
    let named =
        |file: ExportFile| ExportFile { name: format!("gear-{}/{}", gear + 1, file.name), ..file };
    made.map(named).collect()
}

/// The report on a whole gearbox, as a file beside those of its gears.
pub fn gearset_file(analysis: &GearsetAnalysis) -> ExportFile {
    ExportFile {
        name: "gearbox-report.json".to_owned(),
        media_type: "application/json",
        bytes: format!("{:#}\n", gearset_report(analysis, &[])).into_bytes(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;
    use crate::export::Detail;
    use crenel_words::Reader;
    use miniz_oxide::inflate::decompress_to_vec;

    /// The names and bytes in an archive.
    fn unpacked(bytes: &[u8]) -> Vec<(String, Vec<u8>)> {
        let archive = rawzip::ZipArchive::from_slice(bytes).expect("it is an archive");
        let mut entries = archive.entries();
        let mut found = Vec::new();
        while let Some(entry) = entries.next_entry().expect("an entry") {
            let name = entry.file_path().try_normalize().expect("a plain path").as_ref().to_owned();
            let packed = archive.get_entry(entry.wayfinder()).expect("its bytes");
            found.push((name, decompress_to_vec(packed.data()).expect("deflated")));
        }
        found
    }

    #[test]
    fn what_is_packed_comes_out_again() {
        let file = |name: &str, bytes: &[u8]| ExportFile {
            name: name.to_owned(),
            media_type: "text/plain",
            bytes: bytes.to_vec(),
        };
        let files =
            [file("a.txt", b"one"), file("gear-1/empty.txt", b""), file("größe.txt", &[7; 9999])];
        let back = unpacked(&archive(&files).expect("packed"));
        let given: Vec<_> = files.iter().map(|f| (f.name.clone(), f.bytes.clone())).collect();
        assert_eq!(back, given);
        assert!(unpacked(&archive(&[]).expect("packed")).is_empty());
    }

    #[test]
    fn a_gear_has_solids_and_drawings_of_both_rings_and_its_report() {
        let analysis = Analysis::of(&example());
        let input = ExportInput {
            analysis: &analysis,
            before: &analysis,
            reader: Reader::default(),
            link: "",
            time: "2000-01-31T12:00:00",
            detail: Detail::default(),
        };
        let names: Vec<String> = gear_files(&input, 2).into_iter().map(|file| file.name).collect();
        for name in ["ring-a.step", "ring-b.step", "ring-a-cut.stl", "ring-b.dxf", "report.json"] {
            assert!(names.contains(&format!("gear-3/{name}")), "{name}: {names:?}");
        }
    }
}
