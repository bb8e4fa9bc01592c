//! Pours: the stack, the panel, the rack and the judgements.

pub(crate) mod as_poured;
pub(crate) mod compare;
pub(crate) mod correct;
pub(crate) mod judge;
pub(crate) mod own_pours;
pub(crate) mod pages;
pub(crate) mod pour;
pub(crate) mod proposed;
pub(crate) mod provenance;
pub(crate) mod rack;
pub(crate) mod rejudge;
pub(crate) mod sales;
pub(crate) mod stack;
