//! A certificate for the one who buys a picture: what it is, what it is made of, how to keep it. Nothing about permanence,
//! which no test of the studio shows.

use crate::exchange::page::{Page, fill};
use crate::exchange::paper::{CertificateSheet, certificate_sheet};
use crate::exchange::photo::Thumb;
use crate::studio::Answer;
use crate::studio::PictureFacts;
use crate::trade::amount::Measures;
use crate::trade::instant::Now;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::paper::PaperSize;
use crate::trade::text::inert;
use serde::Serialize;

/// How a picture hangs and is cleaned (common practice, no source).
const CARE: &str = "Hang it out of direct sun and away from heat and damp, by both sides of its frame or panel. \
                    Dust it with a soft, dry, clean cloth; no water, no cleaner, no solvent.";

/// What a certificate tells.
#[derive(Debug, Clone, Copy)]
pub struct Certified<'a> {
    /// The picture.
    pub facts: &'a PictureFacts,
    /// The studio's name.
    pub studio: Option<&'a str>,
    /// Its address.
    pub address: Option<&'a str>,
    /// A small picture of it.
    pub photo: Option<&'a Thumb>,
    /// In which measures its size stands.
    pub measures: Measures,
    /// The present instant, and the zone of the dates.
    pub now: &'a Now,
}

#[derive(Debug, Serialize)]
struct View {
    title: String,
    photo: Option<String>,
    rows: Vec<Row>,
}

#[derive(Debug, Serialize)]
struct Row {
    what: &'static str,
    says: String,
}

/// A certificate as HTML.
///
/// # Errors
/// Where the page cannot be put together.
pub fn certificate_page(certified: Certified<'_>) -> Answer<String> {
    let rows = rows(certified)
        .into_iter()
        .map(|(what, says)| Row { what, says });
    fill(
        Page::Certificate,
        &View {
            title: title(certified),
            photo: certified.photo.map(Thumb::address),
            rows: rows.collect(),
        },
    )
}

/// A certificate as PDF.
///
/// # Errors
/// Where the file cannot be put together.
pub fn certificate_pdf(certified: Certified<'_>, paper: PaperSize) -> Answer<Vec<u8>> {
    certificate_sheet(&CertificateSheet {
        title: title(certified),
        rows: rows(certified),
        photo: certified.photo.cloned(),
        paper,
    })
}

fn title(certified: Certified<'_>) -> String {
    let title = certified.facts.picture.title.as_deref();
    title.map_or_else(
        || format!("Picture {}", certified.facts.page.pour.id),
        |title| inert(title).into_owned(),
    )
}

fn rows(certified: Certified<'_>) -> Vec<(&'static str, String)> {
    let (facts, now) = (certified.facts, certified.now);
    let pour = &facts.page.pour;
    let date = |at| now.zone.tell(at).format("%-d %B %Y").to_string();
    let mut rows = vec![
        ("Made", date(pour.at)),
        ("Size", pour.panel.show(certified.measures)),
        (
            "Edition",
            "one, the original; poured paint does not repeat itself".to_owned(),
        ),
        (
            "Technique",
            format!(
                "poured acrylic{}",
                pour.way
                    .as_deref()
                    .map(|way| format!(", {}", inert(way)))
                    .unwrap_or_default()
            ),
        ),
    ];
    let of = |kinds: &[MaterialKind]| {
        let known = facts
            .materials
            .iter()
            .filter(|one| kinds.contains(&one.kind));
        known.map(named).collect::<Vec<_>>().join("\n")
    };
    for (what, kinds) in [
        ("Ground", &[MaterialKind::Base][..]),
        ("Colours", &[MaterialKind::Paint][..]),
        (
            "Binder and media",
            &[
                MaterialKind::Conditioner,
                MaterialKind::Varnish,
                MaterialKind::Stabiliser,
                MaterialKind::Additive,
            ][..],
        ),
    ] {
        let says = of(kinds);
        if !says.is_empty() {
            rows.push((what, says));
        }
    }
    rows.push((
        "Varnish",
        facts.varnished.map_or_else(
            || "none is written down".to_owned(),
            |at| format!("varnished {}", date(at)),
        ),
    ));
    rows.push(("Care", CARE.to_owned()));
    let own = |text: &str| inert(text).into_owned();
    let studio: Vec<String> = [certified.studio, certified.address]
        .into_iter()
        .flatten()
        .map(own)
        .collect();
    if !studio.is_empty() {
        rows.push(("Studio", studio.join("\n")));
    }
    rows
}

/// A material by its name and its pigments' Colour Index names.
fn named(material: &Material) -> String {
    let name = inert(&material.name);
    match &material.colour_index {
        Some(pigments) if name.contains(pigments.as_str()) => name.into_owned(),
        Some(pigments) => format!("{name} (Colour Index {})", inert(pigments)),
        None => name.into_owned(),
    }
}
