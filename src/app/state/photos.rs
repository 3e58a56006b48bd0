//! Pictures of rings that are to be saved with the design. They are no part of it: no history, link or store has them.

use leptos::prelude::*;
use serde_json::Value;

use super::app_state::AppState;

impl AppState {
    /// The place of the work that is open.
    pub(crate) fn place(self) -> String {
        self.history.with(|history| history.settled().place.clone())
    }

    /// The pictures of the work that is open.
    pub(crate) fn photos_to_save(self) -> Vec<Value> {
        let place = self.place();
        self.photos.with(|all| {
            let own = all.iter().filter(|(of, photo)| *of == place && !photo.is_null());
            own.map(|(_, photo)| photo.clone()).collect()
        })
    }

    /// Takes the pictures of a file that was opened, in place of those there were.
    pub(crate) fn bring_photos(self, photos: Vec<Value>) {
        let place = self.place();
        self.photos.update(|all| {
            all.iter_mut()
                .filter(|(of, _)| *of == place)
                .for_each(|(_, photo)| *photo = Value::Null);
            all.extend(photos.into_iter().map(|photo| (place.clone(), photo)));
        });
    }
}
