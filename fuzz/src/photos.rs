//! Photo files and corners: whatever the bytes, an answer or a sentence, within the limits.

use stillcup::exchange::photo::{MOST_PIXELS, open_photo, photo_taken};
use stillcup::studio::Corners;

pub fn photo(bytes: &[u8]) {
    let _taken = photo_taken(bytes);
    match open_photo(bytes, "it") {
        Ok(photo) => {
            let (width, height) = (photo.pixels.width, photo.pixels.height);
            assert_eq!(photo.pixels.rgb.len(), 3 * width * height);
            assert!((width * height) as u64 <= MOST_PIXELS);
        }
        Err(problem) => {
            assert!(problem.to_string().starts_with("it ") && !problem.hint().is_empty())
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
