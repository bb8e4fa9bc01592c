//! `material` and `materials`: what is bought for the studio.

use crate::command::naming::{MergeArguments, RemoveArguments, RetireArguments};
use crate::command::report::{Report, Table};
use crate::command::show::{number, or_dash, retired};
use crate::command::{Desk, word};
use crate::studio::Answer;
use crate::studio::orders::{MaterialField, MaterialOrder, Typed};
use crate::tell;
use crate::tell::views::{MaterialView, MaterialsView};
use crate::trade::ids::MaterialId;
use crate::trade::material::{Fact, Material, MaterialKind};
use crate::trade::recipe::PartOf;
use clap::{Args, Subcommand};

/// What is done to a material.
#[derive(Debug, Subcommand)]
pub enum MaterialVerb {
    /// Write a new material down
    #[command(after_help = ADD_EXAMPLE)]
    Add(AddArguments),
    /// Change what is known of a material; what is left out stays
    #[command(after_help = "Example: stillcup material set \"Titan white\" --density 1.24")]
    Set(SetMaterialArguments),
    /// Two names of one thing: the first goes, all that was done with it is of the second
    #[command(after_help = "Example: stillcup material merge \"Titanium white\" \"Titan white\"")]
    Merge(MergeArguments),
    /// No longer offer it; it stays in the past
    #[command(after_help = "Example: stillcup material retire \"Titan white\"")]
    Retire(RetireArguments),
    /// Remove what nothing ever used
    #[command(after_help = "Example: stillcup material remove \"Titen white\"")]
    Remove(RemoveArguments),
}

const ADD_EXAMPLE: &str = "\
Example: stillcup material add \"Titan white\" --kind paint --pack 250ml --price 8.90 --density 1.24";

/// A new material.
#[derive(Debug, Args)]
pub struct AddArguments {
    /// Its name
    pub name: String,
    /// What it is for
    #[arg(long, value_name = "KIND", value_parser = word!(MaterialKind))]
    #[arg(help = "paint, base, varnish, stabiliser, conditioner, thinner or additive")]
    pub kind: MaterialKind,
    #[command(flatten)]
    pub known: KnownArguments,
}

/// A change of what is known.
#[derive(Debug, Args)]
pub struct SetMaterialArguments {
    /// Its name, or its beginning
    pub name: String,
    /// A new name
    #[arg(long, value_name = "NAME")]
    pub rename: Option<String>,
    /// What it is for
    #[arg(long, value_name = "KIND", value_parser = word!(MaterialKind))]
    pub kind: Option<MaterialKind>,
    /// What is known no more: pack, price, density, colour-index, hazard or colour; may be repeated
    #[arg(long, value_name = "WHAT", value_parser = word!(Fact))]
    pub forget: Vec<Fact>,
    #[command(flatten)]
    pub known: KnownArguments,
}

/// What may be known of a material.
#[derive(Debug, Args)]
pub struct KnownArguments {
    /// What one pack holds: 250ml, or by weight where the density is known
    #[arg(long, value_name = "AMOUNT", allow_hyphen_values = true)]
    pub pack: Option<String>,
    /// What one pack costs: 8.90
    #[arg(long, value_name = "PRICE", allow_hyphen_values = true)]
    pub price: Option<String>,
    /// Its density in g/ml: 1.24
    #[arg(long, value_name = "G/ML", allow_hyphen_values = true)]
    pub density: Option<String>,
    /// The pigment's Colour Index generic name: PW6
    #[arg(long, value_name = "NAME")]
    pub colour_index: Option<String>,
    /// What the label warns of, in its own words
    #[arg(long, value_name = "TEXT")]
    pub hazard: Option<String>,
    /// Its colour, thick and dry: blue, "dark red", or #1e5ab4
    #[arg(long, value_name = "COLOUR")]
    pub colour: Option<String>,
}

impl KnownArguments {
    fn typed(self) -> Typed<MaterialField> {
        Typed::default()
            .given(MaterialField::Pack, self.pack)
            .given(MaterialField::Price, self.price)
            .given(MaterialField::Density, self.density)
            .given(MaterialField::ColourIndex, self.colour_index)
            .given(MaterialField::Hazard, self.hazard)
            .given(MaterialField::Colour, self.colour)
    }
}

impl AddArguments {
    fn typed(self) -> Typed<MaterialField> {
        self.known
            .typed()
            .given(MaterialField::Name, Some(self.name))
            .with(MaterialField::Kind, self.kind.to_string())
    }
}

impl SetMaterialArguments {
    fn typed(self) -> Typed<MaterialField> {
        let kind = self.kind.map(|kind| kind.to_string());
        let typed = self.known.typed().given(MaterialField::Name, self.rename);
        let forget = self.forget.iter().map(ToString::to_string);
        forget.fold(typed.given(MaterialField::Kind, kind), |typed, fact| {
            typed.with(MaterialField::Forget, fact)
        })
    }
}

impl Desk<'_> {
    pub(super) fn material(&mut self, verb: MaterialVerb) -> Answer<Report> {
        let known = self.studio.known([])?;
        let of = |name: &str| known.material(name).map(|one| PartOf::Material(one.id));
        let material = match verb {
            MaterialVerb::Merge(typed) => return self.merge(of(&typed.name)?, typed),
            MaterialVerb::Retire(typed) => return self.retire(of(&typed.name)?, &typed),
            MaterialVerb::Remove(typed) => return self.remove(of(&typed.name)?),
            MaterialVerb::Add(typed) => {
                let (name, order) = MaterialOrder::new(&typed.typed(), &self.given(&known))?;
                self.studio.add_material(&name, &order, &self.now)?
            }
            MaterialVerb::Set(typed) => {
                let before = known.material(&typed.name)?;
                let order = MaterialOrder::read(&typed.typed(), &self.given(&known), Some(before))?;
                let id = MaterialId(before.id);
                self.studio.set_material(id, &order, &self.now)?
            }
        };
        let row = self.material_row(&material);
        Ok(Report::of(&MaterialView::of(&material)).table(&heads().row(row)))
    }

    pub(super) fn materials(&mut self) -> Answer<Report> {
        let materials = self.studio.materials()?;
        let report = Report::of(&MaterialsView::of(&materials));
        if materials.is_empty() {
            return Ok(report
                .line("No material is known.")
                .line("Add one: stillcup material add NAME --kind paint"));
        }
        let rows = materials.iter().map(|one| self.material_row(one));
        Ok(report.table(&rows.fold(heads(), Table::row)))
    }

    fn material_row(&self, one: &Material) -> [String; 8] {
        [
            retired(&one.name, one.retired),
            one.kind.to_string(),
            or_dash(one.pack_ml.map(|pack| self.volume(pack))),
            or_dash(self.price_paid(one)),
            or_dash(
                one.density
                    .map(|density| format!("{} g/ml", number(density.get()))),
            ),
            or_dash(one.colour_index.clone()),
            or_dash(one.colour.map(tell::colour)),
            one.hazard.clone().unwrap_or_default(),
        ]
    }

    /// `8.90 EUR`; where it was not of one pack, `8.90 EUR for 500 ml`.
    fn price_paid(&self, one: &Material) -> Option<String> {
        let price = self.price(one.price?);
        let of = one.priced_ml.map(|ml| format!(" for {}", self.volume(ml)));
        Some(format!("{price}{}", of.unwrap_or_default()))
    }

    /// A price in the studio's currency, to two decimals.
    pub(super) fn price(&self, price: rust_decimal::Decimal) -> String {
        let shown = format!("{price:.2} {}", self.settings.currency);
        shown.trim_end().to_owned()
    }
}

fn heads() -> Table {
    let heads = [
        "material", "kind", "pack", "price", "density", "pigment", "colour", "hazard",
    ];
    Table::headed(&heads).right(&[2, 3, 4])
}
