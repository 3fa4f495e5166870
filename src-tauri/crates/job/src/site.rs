//! Where, when, with whom and with what: venue, times, people, kit, vehicle, and what happened on the day.

use crate::list::{document, listed, words};

words! {
    /// Under a roof or under the sky.
    pub enum Place {
        /// Indoors.
        #[default]
        Indoors,
        /// Outdoors under a roof or in a tent.
        Covered,
        /// In the open.
        Open,
    }

    /// A thing of the kit.
    pub enum KitKind {
        /// An electric inflator with two nozzles.
        Inflator,
        /// A hand pump.
        Pump,
        /// A ladder or step ladder.
        Ladder,
        /// A case or crate of tools.
        #[default]
        Case,
        /// A weight used as ballast.
        Ballast,
    }

    /// What stands on the way between the vehicle and the room.
    pub enum PortalKind {
        /// A door, a gate or a hatch.
        #[default]
        Door,
        /// Two corridors that meet at a right angle.
        Corner,
        /// A lift.
        Lift,
        /// A flight of stairs.
        Stair,
    }
}

document! {
    /// The venue.
    pub struct Venue {
        /// Its name.
        pub name: String,
        /// Where to drive to.
        pub address: String,
        /// Whom to ask for on the day: name and telephone.
        pub contact: String,
        /// IANA time zone, such as `Europe/London`.
        pub zone: String,
        /// Indoors, covered or in the open.
        pub place: Place,
        /// Strong sun on the piece.
        pub sun: bool,
        /// Height above the sea, m.
        pub altitude_m: i64,
        /// Height of the ceiling, mm; 0 is not known.
        pub ceiling_mm: i64,
        /// Expected temperature at the venue, tenths of a degree Celsius.
        pub temperature_dc: i64,
        /// One way from the vehicle to the room, m.
        pub walk_m: i64,
        /// Steps of stairs on the way.
        pub stair_steps: i64,
        /// Rules of the house: no adhesive, no glitter, papers asked for.
        pub house_rules: String,
        /// A photograph of the place behind the design: hash of its bytes; empty is none.
        pub photo: String,
        /// Its width, px.
        pub photo_width_px: i64,
        /// Its height, px.
        pub photo_height_px: i64,
        /// First tapped point, px from the left.
        pub photo_ax_px: i64,
        /// First tapped point, px from the top.
        pub photo_ay_px: i64,
        /// Second tapped point, px from the left.
        pub photo_bx_px: i64,
        /// Second tapped point, px from the top.
        pub photo_by_px: i64,
        /// From the first tapped point to the second in the room, mm; 0 is not measured.
        pub photo_between_mm: i64,
        /// Where the scene's left end stands on the floor, px from the left.
        pub photo_ox_px: i64,
        /// The same, px from the top.
        pub photo_oy_px: i64,
    }

    /// Agreed times: wall clock at the venue as `YYYY-MM-DDTHH:MM`, empty while not agreed.
    pub struct Times {
        /// The venue lets the crew in.
        pub load_in: String,
        /// Everything stands, is tidy and handed over.
        pub ready_by: String,
        /// So long before ready-by the work is to be over, min: room for a slow day.
        pub early_min: i64,
        /// The guests come.
        pub doors_open: String,
        /// Taking down may begin; empty if nobody strikes.
        pub strike_from: String,
        /// The room must be clear.
        pub strike_by: String,
    }

    /// The way from the studio to the venue.
    pub struct Drive {
        /// One way, min.
        pub minutes: i64,
        /// One way, tenths of a kilometre.
        pub distance_hm: i64,
    }

    /// What the job is carried in.
    pub struct Vehicle {
        /// What it is called.
        pub name: String,
        /// Load space, mm.
        pub length_mm: i64,
        /// Load space, mm.
        pub width_mm: i64,
        /// Load space, mm.
        pub height_mm: i64,
        /// Its widest door, mm.
        pub door_width_mm: i64,
        /// Its widest door, mm.
        pub door_height_mm: i64,
        /// The most that it may carry besides the people, g; 0 is not known.
        pub payload_g: i64,
        /// What is in the way inside: wheel arches, slopes in steps.
        pub blocked: Vec<Blocked>,
    }

    /// A box in the load space where nothing can stand. From its corner next to the bulkhead, on the left as one looks in from the
    /// door, on the floor.
    #[derive(Default)]
    pub struct Blocked {
        /// From the bulkhead towards the door, mm.
        pub x_mm: i64,
        /// From the left side wall, mm.
        pub y_mm: i64,
        /// Above the floor, mm.
        pub z_mm: i64,
        /// Along the vehicle, mm.
        pub length_mm: i64,
        /// Across, mm.
        pub width_mm: i64,
        /// Up, mm.
        pub height_mm: i64,
    }

    /// A door, a corner, a lift or a stair between the vehicle and the room. What belongs to the other kinds is kept but not used.
    pub struct Door {
        /// What it is called.
        pub name: String,
        /// What it is.
        pub kind: PortalKind,
        /// Clear width, mm: of the door, of the lift's door, of the stair, of the corridor one comes from.
        pub width_mm: i64,
        /// Clear height, mm: of the door, of the lift's door, of the corner; headroom of the stair, square to the flight.
        pub height_mm: i64,
        /// Corner: the width of the corridor one goes on in, mm.
        pub second_mm: i64,
        /// Stair: the depth of the landing on which it turns, mm; 0 if it does not turn.
        pub landing_mm: i64,
        /// Lift: the car's width, mm.
        pub car_width_mm: i64,
        /// Lift: the car's depth, mm.
        pub car_depth_mm: i64,
        /// Lift: the car's height, mm.
        pub car_height_mm: i64,
        /// Lift: the most that it may carry, g; 0 is not known.
        pub load_g: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// One of the people on the job.
    pub struct Crew {
        /// Name.
        pub name: String,
        /// Telephone for the call sheet.
        pub phone: String,
        /// Ready to work from this minute of each day, counted from midnight at the venue.
        pub from_min: i64,
        /// To this minute of each day; at or before `from_min` it is on the next day.
        pub to_min: i64,
        /// Works on a ladder.
        pub ladder: bool,
        /// Drives the vehicle.
        pub drives: bool,
        /// Pace at blowing and tying, percent of the rates: 50 takes twice as long.
        pub blow_pct: i64,
        /// Pace at twisting clusters, stringing and stacking, percent.
        pub string_pct: i64,
        /// Pace at setting up and hanging in the room, percent.
        pub room_pct: i64,
        /// Pace at bagging, loading and carrying, percent.
        pub carry_pct: i64,
        /// Where this person was copied from: id in the book of people.
        pub source: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// A thing of the kit, so many of it.
    pub struct Kit {
        /// What it is called.
        pub name: String,
        /// What it is.
        pub kind: KitKind,
        /// How many.
        pub count: i64,
        /// Longest side as packed, mm.
        pub length_mm: i64,
        /// Width as packed, mm.
        pub width_mm: i64,
        /// Height as packed, mm.
        pub height_mm: i64,
        /// Mass of one, g.
        pub mass_g: i64,
        /// Stays in the studio.
        pub stays: bool,
        /// Where it was copied from: id in the book of kit.
        pub source: String,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// A note to the job or to one step.
    pub struct Note {
        /// The step it belongs to; empty for the job.
        pub step: String,
        /// What it says.
        pub text: String,
        /// Who wrote it.
        pub who: String,
        /// When, ms since 1970 UTC, by the clock of the device that wrote it.
        pub at_ms: i64,
        /// Place in the list.
        pub order: String,
        /// Removed.
        pub gone: bool,
    }

    /// What one device says of one step. No two devices write the same tick, so no merge can hide one.
    pub struct Tick {
        /// The step.
        pub step: String,
        /// The device that wrote it.
        pub device: String,
        /// Counts up over all devices' ticks of the step: the highest turn is what holds.
        pub turn: i64,
        /// Done, or taken back.
        pub done: bool,
        /// Left out on purpose.
        pub skipped: bool,
        /// Why it was left out; may be empty.
        pub reason: String,
        /// How much was done, in the unit of the step.
        pub quantity: i64,
        /// What the step said when it was ticked, for a step that a later plan no longer has.
        pub what: String,
        /// Who did it.
        pub who: String,
        /// When, ms since 1970 UTC, by the clock of the device.
        pub at_ms: i64,
        /// How long it took by that device's own timer, s; 0 if it was not timed.
        pub took_s: i64,
    }
}

listed!(Door, Crew, Kit, Note);

impl Default for Venue {
    fn default() -> Self {
        Self {
            name: String::new(),
            address: String::new(),
            contact: String::new(),
            zone: "Europe/London".into(),
            place: Place::default(),
            sun: false,
            altitude_m: 0,
            ceiling_mm: 0,
            temperature_dc: 200,
            walk_m: 30,
            stair_steps: 0,
            house_rules: String::new(),
            photo: String::new(),
            photo_width_px: 0,
            photo_height_px: 0,
            photo_ax_px: 0,
            photo_ay_px: 0,
            photo_bx_px: 0,
            photo_by_px: 0,
            photo_between_mm: 0,
            photo_ox_px: 0,
            photo_oy_px: 0,
        }
    }
}

macro_rules! empty {
    ($($name:ident { $($field:ident : $value:expr),* $(,)? })*) => {$(
        impl Default for $name {
            fn default() -> Self {
                Self { $($field: $value),* }
            }
        }
    )*};
}

empty! {
    Times { load_in: String::new(), ready_by: String::new(), early_min: 0, doors_open: String::new(), strike_from: String::new(), strike_by: String::new() }
    Drive { minutes: 0, distance_hm: 0 }
    // a small van, common practice, no source
    Vehicle { name: "Small van".into(), length_mm: 1800, width_mm: 1300, height_mm: 1200, door_width_mm: 1200, door_height_mm: 1100, payload_g: 0, blocked: Vec::new() }
    // a lift for eight people, 630 kg; common practice, no source
    Door { name: String::new(), kind: PortalKind::default(), width_mm: 900, height_mm: 2000, second_mm: 1200, landing_mm: 0, car_width_mm: 1100, car_depth_mm: 1400, car_height_mm: 2100, load_g: 630_000, order: String::new(), gone: false }
    Crew { name: String::new(), phone: String::new(), from_min: 8 * 60, to_min: 20 * 60, ladder: true, drives: true, blow_pct: 100, string_pct: 100, room_pct: 100, carry_pct: 100, source: String::new(), order: String::new(), gone: false }
    Kit { name: String::new(), kind: KitKind::default(), count: 1, length_mm: 0, width_mm: 0, height_mm: 0, mass_g: 0, stays: false, source: String::new(), order: String::new(), gone: false }
    Note { step: String::new(), text: String::new(), who: String::new(), at_ms: 0, order: String::new(), gone: false }
    Tick { step: String::new(), device: String::new(), turn: 0, done: false, skipped: false, reason: String::new(), quantity: 0, what: String::new(), who: String::new(), at_ms: 0, took_s: 0 }
}
impl Crew {
    /// The minute, counted from the day of the start, at which somebody's hours are over: an end at or before the start is on the next day.
    #[must_use]
    pub const fn until_min(&self) -> i64 {
        if self.to_min > self.from_min {
            self.to_min
        } else {
            self.to_min.saturating_add(1440)
        }
    }
}
