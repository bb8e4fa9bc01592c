//! What a picture is and what it is made of, for a certificate.

use crate::logbook::Reader;
use crate::studio::cups::add::all_in;
use crate::studio::cups::mixture::Mixture;
use crate::studio::pours::rack::is_scraped;
use crate::studio::{Answer, PourPage, Refusal, Studio};
use crate::trade::cup::PutFrom;
use crate::trade::judgement::Fate;
use crate::trade::material::{Material, MaterialKind};
use crate::trade::moment::Moment;
use crate::trade::picture::Picture;

/// A picture and its materials.
#[derive(Debug, Clone)]
pub struct PictureFacts {
    /// The pour that made it.
    pub page: PourPage,
    /// Its title and prices.
    pub picture: Picture,
    /// What lies on it, start-overs aside, in the order of the layers; thinner dries off and is left out.
    pub materials: Vec<Material>,
    /// When it was varnished.
    pub varnished: Option<Moment>,
}

/// Cups filled from cups are followed so deep; deeper only in a damaged store.
const DEEPEST: u8 = 32;

impl Studio {
    /// What a picture is and what it is made of.
    ///
    /// # Errors
    /// Where there is no such pour, its paint was scraped, or the store cannot be read.
    pub fn picture_facts(&self, pour: i64) -> Answer<PictureFacts> {
        let page = self.pour_page(pour)?;
        if is_scraped(&page) {
            return Err(Refusal::Scraped(pour).into());
        }
        let read = self.book.read()?;
        let mixture = Mixture::read(&read)?;
        let mut materials = Vec::new();
        for layer in &page.pour.layers {
            gather(&read, &mixture, layer.cup, 0, &mut materials)?;
        }
        let varnish = page
            .judgements
            .iter()
            .find(|one| one.fate == Some(Fate::Varnished));
        Ok(PictureFacts {
            picture: read.picture(pour)?.unwrap_or_else(|| Picture::of(pour)),
            materials,
            varnished: varnish.map(|one| one.at),
            page,
        })
    }
}

fn gather(
    read: &Reader<'_>,
    mixture: &Mixture,
    cup: i64,
    depth: u8,
    found: &mut Vec<Material>,
) -> Answer<()> {
    if depth > DEEPEST {
        return Ok(());
    }
    for from in all_in(read, cup)? {
        match from {
            PutFrom::Cup(id) => gather(read, mixture, id, depth + 1, found)?,
            PutFrom::Material(id) => {
                let known = |one: &Material| one.id == id;
                let stays = |one: &&Material| one.kind != MaterialKind::Thinner;
                if let Some(material) = mixture.material(id).filter(stays)
                    && !found.iter().any(known)
                {
                    found.push(material.clone());
                }
            }
        }
    }
    Ok(())
}
