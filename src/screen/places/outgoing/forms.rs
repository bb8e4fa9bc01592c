//! The forms: of what a file is, and where it goes.

use super::{Deed, OutgoingAsk as Ask};
use crate::exchange::outgoing::{Labels, Outgoing, OutgoingOrder};
use crate::exchange::photo::path_typed;
use crate::screen::kit::desk::Desk;
use crate::screen::kit::field::Line;
use crate::screen::kit::form::{Fault, Field, Form};
use crate::screen::kit::place::Subject;
use crate::studio::orders::{
    CalendarField, LabelField, LabelOrder, OutgoingField, OutgoingKind, WindowField,
};
use crate::tell;
use crate::trade::paper::PaperSize;
use std::path::{Path, PathBuf};

/// The form of a kind of file.
pub fn form(ask: &Ask, folder: &str, layout: &[(LabelField, String)], desk: &Desk) -> Form {
    let today = desk.beat.now.zone.tell(desk.beat.now.at);
    let measures = desk.measures();
    let file = match ask.kind {
        OutgoingKind::Ledger => Field::of(OutgoingField::File, measures),
        _ => Field::of(OutgoingField::File, measures).offering("file"),
    };
    let papers = PaperSize::ALL.map(|paper| paper.word().to_owned()).to_vec();
    let paper = || {
        let usual = PaperSize::usual(measures).word();
        Field::of(OutgoingField::Paper, measures)
            .one_of(papers.clone())
            .offering(usual)
    };
    let numbered = |field: OutgoingField| {
        let number = number(ask).map(|number| number.to_string());
        Field::of(field, measures).offering(&number.unwrap_or_default())
    };
    let fields = match ask.kind {
        OutgoingKind::Labels => {
            let field = |of| Field::of(of, measures).offering(&laid_out(of, ask, layout));
            let mut fields: Vec<_> = LABELS.into_iter().map(field).collect();
            fields.extend([paper(), file]);
            fields
        }
        OutgoingKind::Session => vec![numbered(OutgoingField::Plan), paper(), file],
        OutgoingKind::Certificate => vec![numbered(OutgoingField::Picture), paper(), file],
        OutgoingKind::Report => vec![
            Field::of(WindowField::Month, measures).offering(&today.format("%Y-%m").to_string()),
            Field::of(WindowField::Since, measures),
            file,
        ],
        OutgoingKind::Ledger => vec![
            Field::of(WindowField::Year, measures).offering(&today.format("%Y").to_string()),
            Field::of(OutgoingField::Names, measures)
                .one_of(OutgoingField::NAMES.map(str::to_owned).to_vec())
                .offering(OutgoingField::NAMES[0]),
            file,
        ],
        OutgoingKind::Calendar => vec![
            Field::of(CalendarField::Alarm, measures).offering("10m"),
            file,
        ],
    };
    let title = format!("A file of the {}", tell::outgoing::name(ask.kind));
    let mut form = Form::new(title, fields).at_once();
    name_file(ask, &mut form, folder);
    form
}

/// The fields of labels, in their order, with what stands in them the first time.
const LABELS: [LabelField; 8] = [
    LabelField::Whose,
    LabelField::Count,
    LabelField::Label,
    LabelField::Margin,
    LabelField::Gap,
    LabelField::From,
    LabelField::Roll,
    LabelField::Copies,
];

/// What is offered in a field of labels: the cup or plan in hand, the sheets of the last time.
fn laid_out(field: LabelField, ask: &Ask, layout: &[(LabelField, String)]) -> String {
    if field == LabelField::Whose {
        return match &ask.of {
            Some(Subject::Cup(mark)) => mark.clone(),
            Some(Subject::Plan(plan)) => format!("plan {plan}"),
            Some(Subject::Picture(_)) | None => "living".to_owned(),
        };
    }
    let before = layout.iter().find(|(one, _)| *one == field);
    let usual = match field {
        LabelField::Count => "3x8",
        LabelField::Label => "70x37mm",
        LabelField::Margin => "0x0mm",
        LabelField::Gap => "0mm",
        LabelField::From | LabelField::Copies => "1",
        LabelField::Whose | LabelField::Roll => "",
    };
    before.map_or_else(|| usual.to_owned(), |(_, text)| text.clone())
}

/// How labels are laid out, as it was typed; the place of the first and how many of each are another time's.
pub fn layout(form: &Form) -> Vec<(LabelField, String)> {
    let stays = |field: &LabelField| {
        !matches!(
            field,
            LabelField::Whose | LabelField::From | LabelField::Copies
        )
    };
    let fields = LABELS.into_iter().filter(stays);
    fields
        .map(|field| (field, form.value(field).to_owned()))
        .collect()
}

/// The number of the plan or the picture in hand, where it is what the file is of.
fn number(ask: &Ask) -> Option<i64> {
    match (ask.kind, ask.of.as_ref()?) {
        (OutgoingKind::Session, Subject::Plan(plan)) => Some(*plan),
        (OutgoingKind::Certificate, Subject::Picture(pour)) => Some(*pour),
        _ => None,
    }
}

/// Offers a name for the file that follows what was typed, until a hand has typed another. A ledger is shown where none is.
pub fn name_file(ask: &Ask, form: &mut Form, folder: &str) {
    let value = |field: OutgoingField| form.value(field).to_owned();
    let name = match ask.kind {
        OutgoingKind::Labels => {
            let whose = form.value(LabelField::Whose).replace([' ', ','], "-");
            format!("labels-{whose}.pdf")
        }
        OutgoingKind::Session => format!("plan-{}.pdf", value(OutgoingField::Plan)),
        OutgoingKind::Certificate => format!("picture-{}.pdf", value(OutgoingField::Picture)),
        OutgoingKind::Report => {
            let (month, since) = (
                form.value(WindowField::Month),
                form.value(WindowField::Since),
            );
            let span = if month.is_empty() { since } else { month };
            format!("report-{span}.html").replace("-.", ".")
        }
        OutgoingKind::Ledger => return,
        OutgoingKind::Calendar => "cups.ics".to_owned(),
    };
    let name: String = name.chars().filter(|c| !matches!(c, '/' | ' ')).collect();
    if let Some(file) = form.field_mut(OutgoingField::File)
        && file.line.is_offered()
    {
        file.line = Line::offering(&format!("{folder}{name}"));
    }
}

/// Of what the file is.
///
/// # Errors
/// The first field that cannot be read.
pub fn what(kind: OutgoingKind, form: &Form, desk: &Desk) -> Result<Outgoing, Fault> {
    let typed = form.typed::<OutgoingField>();
    let number = |field: OutgoingField| field.number(&typed).map_err(|wrong| desk.fault(wrong));
    let paper = typed.text(OutgoingField::Paper).and_then(PaperSize::named);
    let window = || {
        let window = WindowField::order(&form.typed(), &desk.given());
        window.map_err(|wrong| desk.fault(wrong))
    };
    Ok(match kind {
        OutgoingKind::Labels => {
            let fields = form.typed::<LabelField>();
            Outgoing::Labels(Labels {
                whose: LabelField::whose(&fields).map_err(|wrong| desk.fault(wrong))?,
                order: LabelOrder::read(&fields).map_err(|wrong| desk.fault(wrong))?,
                paper,
            })
        }
        OutgoingKind::Session => Outgoing::Session {
            plan: number(OutgoingField::Plan)?,
            paper,
        },
        OutgoingKind::Certificate => Outgoing::Certificate {
            pour: number(OutgoingField::Picture)?,
            paper,
        },
        OutgoingKind::Report => Outgoing::Report(window()?),
        OutgoingKind::Ledger => Outgoing::Ledger {
            window: window()?,
            names: OutgoingField::with_names(&typed),
        },
        OutgoingKind::Calendar => {
            let before = CalendarField::order(&form.typed());
            Outgoing::Calendar(before.map_err(|wrong| desk.fault(wrong))?)
        }
    })
}

/// What is to be done: the file is written; a ledger without one is shown.
///
/// # Errors
/// The first field that cannot be read.
pub fn read(kind: OutgoingKind, form: &Form, desk: &Desk) -> Result<Deed, Fault> {
    let what = what(kind, form, desk)?;
    if let (Outgoing::Ledger { window, names }, "") = (&what, form.value(OutgoingField::File)) {
        let (window, names) = (*window, *names);
        return Ok(Deed::Ledger { window, names });
    }
    let file = OutgoingField::file(&form.typed()).map_err(|wrong| desk.fault(wrong))?;
    Ok(Deed::Write(Box::new(OutgoingOrder {
        what,
        file: whole(&path_typed(&file, Path::new("."))),
        replace: form.is_meant(),
    })))
}

/// A path from the root on, so that one finds it again.
pub fn whole(path: &Path) -> PathBuf {
    let plain = path.strip_prefix("./").unwrap_or(path);
    std::path::absolute(plain).unwrap_or_else(|_| plain.to_owned())
}
