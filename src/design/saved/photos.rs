//! Pictures of rings that a file carries beside its design.
//!
//! A file can have `photos`, a list of objects: the `picture` as a data URL, the `ring` (`"a"` or `"b"`) and the `gear`
//! of the gearbox that it is of, and the `marks` that were set on it. Nothing of a design follows from them, so that a
//! link, a history and what a browser keeps never have them.

use crenel_words::file as say;
use serde_json::{Map, Value};

use super::read::Reader;
use super::write::save;
use crate::design::Design;
use crate::finding::Finding;

/// Most pictures in a file.
pub const MOST_PHOTOS: usize = 5;

/// Most characters of a picture: as many pictures as a file can have leave room for its design in
/// [`super::FILE_LIMIT`].
pub const PHOTO_LIMIT: usize = 700_000;

const KEY: &str = "photos";

/// The saved form of a design with pictures beside it.
pub fn save_with_photos(design: &Design, photos: Vec<Value>) -> Value {
    let mut saved = save(design);
    if !photos.is_empty() {
        saved[KEY] = Value::Array(photos);
    }
    saved
}

impl Reader {
    /// Takes the pictures out of a saved form. What is no picture, or too large, is left out with a finding.
    pub(super) fn photos(&mut self, map: &mut Map<String, Value>) {
        let Some(listed) = map.shift_remove(KEY) else { return };
        let mut photos = match listed {
            Value::Array(photos) => photos,
            other => vec![other],
        };
        let many = photos.len();
        photos.retain(is_photo);
        photos.truncate(MOST_PHOTOS);
        if photos.len() < many {
            let says = say::photos_left_out(many - photos.len());
            self.findings.push(Finding::warning(says));
        }
        self.photos = photos;
    }
}

fn is_photo(photo: &Value) -> bool {
    let picture = photo["picture"].as_str().unwrap_or_default();
    picture.starts_with("data:image/") && picture.len() <= PHOTO_LIMIT
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::super::{FILE_LIMIT, open, read, to_json};
    use super::*;
    use crate::design::{encode, example};

    fn photo(length: usize) -> Value {
        let picture = format!("data:image/webp;base64,{}", "A".repeat(length));
        json!({ "ring": "a", "picture": picture, "marks": { "first": 2 } })
    }

    #[test]
    fn a_file_carries_pictures_and_nothing_else_does() {
        let design = example();
        let photos = vec![photo(200), photo(30)];
        let saved = save_with_photos(&design, photos.clone());
        let opened = open(&saved.to_string()).expect("it opens");
        assert_eq!((&opened.design, &opened.photos), (&design, &photos));
        assert_eq!(opened.findings, []);
        assert!(!to_json(&opened.design).contains("data:image") && !encode(&design).is_empty());
        assert_eq!(save_with_photos(&design, Vec::new()), save(&design));
    }

    #[test]
    fn a_whole_gearbox_carries_them_too() {
        let design = Design::in_box(&crate::design::LAYOUTS[0].to_gearset(), 1);
        let opened =
            open(&save_with_photos(&design, vec![photo(9)]).to_string()).expect("it opens");
        assert_eq!((opened.design, opened.photos.len()), (design, 1));
    }

    #[test]
    fn bad_and_too_large_pictures_are_told_and_the_rest_opens() {
        let design = example();
        let good = photo(10);
        let bad = [json!(null), json!(7), json!({}), json!({ "picture": "https://a.b/c" })];
        let bad = bad.into_iter().chain([photo(PHOTO_LIMIT), json!({ "picture": [1] })]);
        for bad in bad {
            let saved = save_with_photos(&design, vec![bad, good.clone()]);
            let opened = open(&saved.to_string()).expect("it opens");
            assert_eq!((&opened.design, &opened.photos), (&design, &vec![good.clone()]));
            let codes: Vec<_> = opened.findings.iter().map(|finding| finding.code).collect();
            assert_eq!(codes, ["photos_left_out"]);
        }
        let many = save_with_photos(&design, vec![good; MOST_PHOTOS + 3]);
        let opened = open(&many.to_string()).expect("it opens");
        assert_eq!((opened.photos.len(), opened.findings.len()), (MOST_PHOTOS, 1));
        let mut no_list = save(&design);
        no_list[KEY] = json!("none");
        assert_eq!(open(&no_list.to_string()).expect("it opens").findings.len(), 1);
    }

    #[test]
    fn as_many_as_a_file_can_have_fit_into_one() {
        let whole = "data:image/webp;base64,".len();
        let full = vec![photo(PHOTO_LIMIT - whole); MOST_PHOTOS];
        let text = format!("{:#}\n", save_with_photos(&example(), full));
        assert!(text.len() < FILE_LIMIT - 200_000, "{}", text.len());
        assert_eq!(read(text.as_bytes()).expect("it opens").photos.len(), MOST_PHOTOS);
    }
}
