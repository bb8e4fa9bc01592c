//! Photo files and corners: whatever the bytes, an answer or a sentence, within the limits.

use crate::files::now;
use stillcup::exchange::photo::{MOST_PIXELS, open_photo, photo_taken};
use stillcup::studio::{Corners, Refusal, StudioError};
use stillcup::tell::{self, Face};
use stillcup::trade::amount::Measures;

pub fn photo(bytes: &[u8]) {
    let _taken = photo_taken(bytes);
    match open_photo(bytes) {
        Ok(photo) => {
            let (width, height) = (photo.pixels.width, photo.pixels.height);
            assert_eq!(photo.pixels.rgb.len(), 3 * width * height);
            assert!((width * height) as u64 <= MOST_PIXELS);
        }
        Err(why) => {
            let name = "it".to_owned();
            let error: StudioError = Refusal::PhotoFile { name, why }.into();
            let words = tell::words(&error, Measures::Metric, &now());
            assert!(words.starts_with("it ") && !tell::hint(&error, Face::Screen).is_empty());
        }
    }
}

pub fn corners(text: &str) {
    if let Ok(Corners::Given(four)) = Corners::parse(text) {
        assert!(
            four.iter()
                .all(|point| point.x.is_finite() && point.y.is_finite())
        );
    }
}
