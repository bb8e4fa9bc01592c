//! What leaves the studio, held against programs that share no code with it. Where such a program is not installed the
//! test says so aloud and holds nothing; `.ci/run` installs them all.

mod calendar;
mod labels;
mod lists;
mod pages;
mod paper;
mod sales;
mod spreadsheet;
mod watch;

use std::path::Path;
use std::process::Command;

/// What a program of the system prints, as bytes; `None`, said aloud, where it is not installed.
pub(crate) fn printed(program: &str, words: &[&str]) -> Option<Vec<u8>> {
    match Command::new(program).args(words).output() {
        Ok(done) => {
            let said = String::from_utf8_lossy(&done.stderr);
            assert!(done.status.success(), "{program} {words:?}: {said}");
            Some(done.stdout)
        }
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            eprintln!("skipped: no {program}");
            None
        }
        Err(error) => panic!("{program}: {error}"),
    }
}

/// The text of a PDF, by poppler.
pub(crate) fn text_of(pdf: &Path) -> Option<String> {
    let file = pdf.to_str().unwrap();
    let text = printed("pdftotext", &["-layout", file, "-"])?;
    Some(String::from_utf8(text).unwrap())
}

/// A grey picture.
pub(crate) struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) pixels: Vec<u8>,
}

impl Grey {
    /// A page of a PDF at 300 dots an inch, by poppler.
    pub(crate) fn of_page(pdf: &Path, page: u32) -> Option<Self> {
        let (file, page) = (pdf.to_str().unwrap(), page.to_string());
        let picture = printed(
            "pdftoppm",
            &["-r", "300", "-gray", "-f", &page, "-l", &page, file],
        )?;
        Some(Self::read(&picture))
    }

    /// Reads a portable grey map (P5).
    fn read(picture: &[u8]) -> Self {
        let mut words = Vec::new();
        let mut at = 0;
        while words.len() < 4 {
            let end = at
                + picture[at..]
                    .iter()
                    .position(u8::is_ascii_whitespace)
                    .unwrap();
            words.push(std::str::from_utf8(&picture[at..end]).unwrap().to_owned());
            at = end + 1;
        }
        assert_eq!((words[0].as_str(), words[3].as_str()), ("P5", "255"));
        Self {
            width: words[1].parse().unwrap(),
            height: words[2].parse().unwrap(),
            pixels: picture[at..].to_vec(),
        }
    }

    pub(crate) fn dark(&self, x: usize, y: usize) -> bool {
        self.pixels[y * self.width + x] < 128
    }

    /// The QR code of a part of it, by a reader of its own.
    pub(crate) fn code(&self, from: (usize, usize), size: (usize, usize)) -> String {
        let grey = |x, y| self.pixels[(from.1 + y) * self.width + from.0 + x];
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(size.0, size.1, grey);
        let grids = picture.detect_grids();
        assert_eq!(grids.len(), 1);
        grids[0].decode().unwrap().1
    }
}

/// Millimetres as dots of a picture of 300 dots an inch.
pub(crate) fn dots(mm: f64) -> f64 {
    mm / 25.4 * 300.0
}
