//! The tables `plan` and `planned_cup`.

use crate::logbook::pours::{panel, panel_columns};
use crate::logbook::read::{Read, Reader, moment_in, moment_of};
use crate::logbook::{Value, Writer, write};
use crate::trade::plan::{Panels, Plan, PlannedCup};
use crate::trade::units::{Hours, Millilitres, Millimetres, Seconds};
use rusqlite::Row;
use std::collections::HashMap;

impl Reader<'_> {
    /// Every plan, newest first.
    ///
    /// # Errors
    /// Where the store cannot be read; so of all readings below.
    pub fn plans(&self) -> Read<Vec<Plan>> {
        let mut plans = self.all("SELECT * FROM plan ORDER BY id DESC", [], plan)?;
        for plan in &mut plans {
            plan.cups = self.planned_cups(plan.id)?;
        }
        Ok(plans)
    }

    /// A plan by its number.
    pub fn plan(&self, id: i64) -> Read<Option<Plan>> {
        let Some(mut plan) = self.first("SELECT * FROM plan WHERE id = ?1", [id], plan)? else {
            return Ok(None);
        };
        plan.cups = self.planned_cups(id)?;
        Ok(Some(plan))
    }

    /// Which pour a pour makes once more: that of the newest plan whose cups lie in it.
    pub fn repeated_by(&self, pour: i64) -> Read<Option<i64>> {
        let sql = "SELECT plan.repeats_pour_id FROM layer
                   JOIN planned_cup ON planned_cup.cup_id = layer.cup_id
                   JOIN plan ON plan.id = planned_cup.plan_id
                   JOIN pour ON pour.id = layer.pour_id
                   WHERE layer.pour_id = ?1 AND plan.repeats_pour_id IS NOT NULL
                   AND plan.repeats_pour_id <> ?1 AND plan.at_ms <= pour.at_ms
                   ORDER BY plan.id DESC LIMIT 1";
        self.first(sql, [pour], |row| row.get(0))
    }

    /// Which pours make which once more.
    pub fn repeats(&self) -> Read<HashMap<i64, i64>> {
        let sql = "SELECT pour.id, plan.repeats_pour_id FROM plan
                   JOIN planned_cup ON planned_cup.plan_id = plan.id
                   JOIN layer ON layer.cup_id = planned_cup.cup_id
                   JOIN pour ON pour.id = layer.pour_id
                   WHERE plan.repeats_pour_id IS NOT NULL
                   AND plan.repeats_pour_id <> pour.id AND plan.at_ms <= pour.at_ms
                   ORDER BY plan.id";
        let rows = self.all(sql, [], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.into_iter().collect())
    }

    fn planned_cups(&self, plan: i64) -> Read<Vec<PlannedCup>> {
        let sql = "SELECT * FROM planned_cup WHERE plan_id = ?1 ORDER BY place";
        self.all(sql, [plan], planned_cup)
    }
}

impl Writer<'_> {
    /// Writes down a plan with its cups; its `id` is not looked at.
    ///
    /// # Errors
    /// Where the store refuses it; so of all writings below.
    pub fn add_plan(&mut self, new: &Plan) -> Read<i64> {
        let id = self.insert("plan", &plan_columns(new))?;
        for (place, cup) in (1_i64..).zip(&new.cups) {
            let columns = [
                ("plan_id", id.into()),
                ("place", place.into()),
                ("variant_id", cup.variant.into()),
                ("ml", cup.ml.get().into()),
                ("cup_id", cup.cup.into()),
                ("stood_h", cup.stood.map(Hours::get).into()),
                ("mound_s", cup.mound.map(Seconds::get).into()),
            ];
            self.insert("planned_cup", &columns)?;
        }
        Ok(id)
    }

    /// Says which cup was mixed for a plan's place, counted from 1.
    pub fn set_planned(&mut self, plan: i64, place: i64, cup: i64) -> Read<()> {
        let sql = "SELECT id FROM planned_cup WHERE plan_id = ?1 AND place = ?2";
        let id: Option<i64> = self.read().first(sql, (plan, place), |row| row.get(0))?;
        match id {
            Some(id) => self.update("planned_cup", id, &[("cup_id", cup.into())]),
            None => Ok(()),
        }
    }
}

fn plan_columns(of: &Plan) -> Vec<(&'static str, Value)> {
    let [at_ms, offset_min] = write::moment(of.at);
    let pour_at = of.pour_at.map(write::moment);
    let [pour_ms, pour_offset] = pour_at.unwrap_or([Value::Null, Value::Null]);
    let mut columns = vec![
        ("uid", write::uid()),
        ("at_ms", at_ms),
        ("offset_min", offset_min),
        ("count", of.panels.count.into()),
        ("edge_mm", of.panels.edge.get().into()),
        ("way", of.way.clone().into()),
        ("pour_at_ms", pour_ms),
        ("pour_offset_min", pour_offset),
        ("note", of.note.clone().into()),
        ("repeats_pour_id", of.repeats.into()),
    ];
    columns.extend(panel_columns(of.panels.panel));
    columns
}

pub(super) fn plan(row: &Row<'_>) -> rusqlite::Result<Plan> {
    let poured = row.get::<_, Option<i64>>("pour_at_ms")?.is_some();
    let pour_at = poured.then(|| moment_in(row, "pour_at_ms", "pour_offset_min"));
    Ok(Plan {
        id: row.get("id")?,
        at: moment_of(row)?,
        panels: Panels {
            panel: panel(row)?,
            count: row.get("count")?,
            edge: Millimetres(row.get("edge_mm")?),
        },
        way: row.get("way")?,
        pour_at: pour_at.transpose()?,
        cups: Vec::new(),
        note: row.get("note")?,
        repeats: row.get("repeats_pour_id")?,
    })
}

pub(super) fn planned_cup(row: &Row<'_>) -> rusqlite::Result<PlannedCup> {
    Ok(PlannedCup {
        variant: row.get("variant_id")?,
        ml: Millilitres(row.get("ml")?),
        cup: row.get("cup_id")?,
        stood: row.get::<_, Option<f64>>("stood_h")?.map(Hours),
        mound: row.get::<_, Option<f64>>("mound_s")?.map(Seconds),
    })
}
