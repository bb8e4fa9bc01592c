//! What every place is built of: forms, lists, texts, signs. It knows no place.

pub(crate) mod amounts;
pub(crate) mod beat;
pub(crate) mod correct;
pub(crate) mod desk;
pub(crate) mod digits;
pub(crate) mod field;
pub(crate) mod form;
pub(crate) mod form_field;
pub(crate) mod form_view;
pub(crate) mod handover;
pub(crate) mod keys;
pub(crate) mod known;
pub(crate) mod later;
pub(crate) mod list;
pub(crate) mod look;
pub(crate) mod message;
pub(crate) mod naming;
pub(crate) mod pick;
pub(crate) mod picture;
pub(crate) mod place;
pub(crate) mod refusal;
pub(crate) mod seek;
pub(crate) mod sheet;
pub(crate) mod step;
pub(crate) mod text;
