//! Colours, items, rates and rules.

use super::numbers::{Number, called, number, out_of_range};
use crate::edit::{Edit, Part};
use crate::finding::{Finding, Room, Severity};
use crate::job_doc::Job;
use crate::list::live;
use crate::stock::{Colour, Item, ItemKind, Rates, Rules};

/// More than this of one thing is a slip of the finger.
const MOST: i64 = 1_000_000;
/// A day, s.
const DAY_S: i64 = 86_400;

pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let mut all = Vec::new();
    for (id, colour) in live(&job.colours) {
        all.extend(bad_srgb(id, colour));
        all.extend(no_colour_name(id, colour));
    }
    for (id, item) in live(&job.items) {
        all.extend(item_numbers(job, id, item));
        all.extend(bad_bags(job, id, item));
    }
    all.extend(item_twice(job));
    for (id, sundry) in live(&job.sundries) {
        let row = [number(
            "hundredths",
            "The amount in hundredths",
            "",
            sundry.hundredths,
            100,
            (0, MOST),
        )];
        all.extend(out_of_range(Part::Job, &["sundries", id], "", &row));
    }
    all.extend(out_of_range(
        Part::Job,
        &["rates"],
        "Rates",
        &rates(&job.rates),
    ));
    all.extend(out_of_range(
        Part::Job,
        &["rules"],
        "Rules",
        &rules(&job.rules),
    ));
    all
}

fn bad_srgb(id: &str, colour: &Colour) -> Option<Finding> {
    let digits = colour.srgb.strip_prefix('#').unwrap_or_default();
    let good = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
    (!good).then(|| {
        Finding::new(
            "bad_srgb",
            Severity::Care,
            Room::Design,
            &["colours", id, "srgb"],
            format!(
                "{} has no colour that can be shown.",
                called(&colour.name, "A colour")
            ),
            "Choose its colour again.",
        )
    })
}

fn no_colour_name(id: &str, colour: &Colour) -> Option<Finding> {
    colour.name.trim().is_empty().then(|| {
        Finding::new(
            "no_colour_name",
            Severity::Care,
            Room::Design,
            &["colours", id, "name"],
            "A colour has no name. On paper and in dim light only its name tells it from others.",
            "Give it a name.",
        )
    })
}

/// What an item is called: its own name, or colour and size.
fn item_name(job: &Job, item: &Item) -> String {
    if !item.name.trim().is_empty() {
        return item.name.trim().into();
    }
    let colour = job.colours.get(&item.colour).map_or("", |c| c.name.trim());
    format!("{} {} in", called(colour, "An item of"), item.size_in)
}

fn item_numbers(job: &Job, id: &str, item: &Item) -> Vec<Finding> {
    let rows = [
        number(
            "on_hand",
            "The amount on the shelf",
            "",
            item.on_hand,
            0,
            (0, MOST),
        ),
        number(
            "size_in",
            "The nominal size",
            " in",
            item.size_in,
            0,
            (0, 100),
        ),
    ];
    out_of_range(Part::Job, &["items", id], &item_name(job, item), &rows)
}

fn bad_bags(job: &Job, id: &str, item: &Item) -> Option<Finding> {
    let good: Vec<i64> = item
        .bags
        .iter()
        .copied()
        .filter(|b| (1..=MOST).contains(b))
        .collect();
    (good.len() != item.bags.len()).then(|| {
        Finding::new(
            "bad_bags",
            Severity::Care,
            Room::Make,
            &["items", id, "bags"],
            format!("{} comes in a bag of nothing.", item_name(job, item)),
            "Enter how many are in a bag.",
        )
        .fix(
            "Leave that bag out",
            vec![Edit::set(&["items", id, "bags"], good)],
        )
    })
}

/// Two items for the same balloons: the first is used, and the second's shelf is not seen.
fn item_twice(job: &Job) -> Vec<Finding> {
    let mut seen = std::collections::BTreeSet::new();
    live(&job.items)
        .into_iter()
        .filter(|(_, i)| matches!(i.kind, ItemKind::Round | ItemKind::Link))
        .filter(|(_, i)| !seen.insert((i.kind, i.colour.as_str(), i.size_in)))
        .map(|(id, item)| {
            Finding::new(
                "item_twice",
                Severity::Care,
                Room::Make,
                &["items", id],
                format!(
                    "{} is in the list twice. Only the first is used.",
                    item_name(job, item)
                ),
                "Remove one of the two.",
            )
            .fix(
                "Remove the second",
                vec![Edit::Remove {
                    part: Part::Job,
                    path: vec!["items".into()],
                    id: id.into(),
                }],
            )
        })
        .collect()
}

fn rates(rates: &Rates) -> Vec<Number> {
    let usual = Rates::default();
    macro_rules! seconds {
        ($($field:ident $what:literal),* $(,)?) => {
            vec![$(number(stringify!($field), $what, " s", rates.$field, usual.$field, (0, DAY_S))),*]
        };
    }
    let mut rows = seconds! {
        pair_s "a pair of rounds",
        round24_s "a round of 24 in",
        round36_s "a round of 36 in",
        small_pair_s "a pair of small rounds",
        double_s "a double-stuffed ball",
        join_s "a pair more in a cluster",
        string_s "a cluster tied on",
        link_pair_s "a pair of links",
        link_tie_s "a link tied on",
        hang_s_m "a metre hung",
        drape_s "a chain draped",
        extra_s "a cluster put in",
        frame_s "a frame set up",
        stand_s "a column stood up",
        foil_s "a foil filled",
        ring_link_s "a ring link blown",
        ring_slot_s "a ring link slotted in",
        helium_s "a balloon filled with helium",
        accent_s "an accent tied",
        place_s "an accent placed",
        filler_s "a filler placed",
        stack_s "a ring stacked",
        grid_s "a crossing of a grid",
        check_s "checking the delivery",
        bag_s "a bag packed",
        carry_s "a bag lifted",
        finish_s "tidy and hand-over",
        strike_s_m "strike of a metre",
        strike_s "strike of a job",
    };
    rows.extend([
        number(
            "flow_l_min",
            "the flow of an inflator",
            " L/min",
            rates.flow_l_min,
            usual.flow_l_min,
            (1, 100_000),
        ),
        number(
            "alone_pct",
            "the time of one alone",
            " %",
            rates.alone_pct,
            usual.alone_pct,
            (50, 1000),
        ),
        number(
            "stroke_ml",
            "a stroke of the pump",
            " mL",
            rates.stroke_ml,
            usual.stroke_ml,
            (1, 10_000),
        ),
        number(
            "walk_mm_s",
            "walking",
            " mm/s",
            rates.walk_mm_s,
            usual.walk_mm_s,
            (50, 5000),
        ),
        number(
            "stair_ms",
            "a step of stairs",
            " ms",
            rates.stair_ms,
            usual.stair_ms,
            (0, 60_000),
        ),
        number(
            "lift_s",
            "a ride in a lift",
            " s",
            rates.lift_s,
            usual.lift_s,
            (0, 86_400),
        ),
    ]);
    rows
}

fn rules(rules: &Rules) -> Vec<Number> {
    let usual = Rules::default();
    macro_rules! rows {
        ($($field:ident $what:literal $unit:literal $low:literal $high:literal),* $(,)?) => {
            vec![$(number(stringify!($field), $what, $unit, rules.$field, usual.$field, ($low, $high))),*]
        };
    }
    rows! {
        spare_small_pct "spares of small rounds" " %" 0 500,
        spare_small_min "least spares of small rounds" "" 0 1000,
        spare_big_pct "spares of larger rounds" " %" 0 500,
        spare_big_min "least spares of larger rounds" "" 0 1000,
        fresh_care_h "the age to look at" " h" 0 1000,
        fresh_stop_h "the age that is too old" " h" 0 1000,
        fresh_outdoors_h "the age outdoors" " h" 0 1000,
        helium_loss_pct "helium lost" " %" 0 500,
        helium_h "hours that latex floats" " h" 0 1000,
        helium_treated_h "hours that treated latex floats" " h" 0 1000,
        helium_foil_h "hours that foil floats" " h" 0 1000,
        open_air_h "hours in the open" " h" 0 1000,
        open_sun_h "hours in strong sun" " h" 0 1000,
        length_mm "the longest length carried" " mm" 100 20_000,
        fill_pct "the share of a hull that is balloons" " %" 1 100,
        squeeze_pct "the squeeze of a bag" " %" 0 90,
        rest_pct "rest" " %" 0 200,
        learn_pct "the learning of alike pieces" " %" 50 100,
    }
}
