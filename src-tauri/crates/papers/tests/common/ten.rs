//! Ten jobs that are hard to print: from one piece to twenty, with long names, in many scripts, at no price and at huge ones. All invented.

use job::books::Own;
use job::defaults::starting_books;
use job::demo::demo;
use job::money::{Charge, Instalment};
use job::piece::Piece;
use job::site::Door;
use job::{Job, Private};

/// A job with what it is printed on.
pub struct Hard {
    /// What is hard about it.
    pub name: &'static str,
    /// The job.
    pub job: Job,
    /// Client and money.
    pub private: Private,
    /// Whose name stands on it.
    pub own: Own,
    /// On US Letter, in feet and inches, with am and pm.
    pub us: bool,
    /// Holds letters that the typeface lacks.
    pub lacks_letters: bool,
}

fn example() -> (Job, Private) {
    demo(&starting_books(), "2027-06-12")
}

fn own() -> Own {
    Own {
        name: "Maud Kestrel, balloon décor".into(),
        address: "3 Chandler Yard\nEllerwater EW4 2LK".into(),
        phone: "01632 960771".into(),
        email: "maud@example.org".into(),
        country: "GB".into(),
        tax_number: "GB123456789".into(),
        bank: "Lakeside Savings, GB33BUKB20201555555555".into(),
        ..Own::default()
    }
}

fn hard(name: &'static str, change: impl FnOnce(&mut Hard)) -> Hard {
    let (job, private) = example();
    let mut one = Hard {
        name,
        job,
        private,
        own: own(),
        us: false,
        lacks_letters: false,
    };
    one.private.client.country = "GB".into();
    one.private.prices.terms = "We put everything up and take it down.".into();
    change(&mut one);
    one
}

/// The demo's pieces again and again, each with a name of its own, on nothing.
fn pieces(job: &mut Job, many: usize, name: impl Fn(usize) -> String) {
    let known: Vec<Piece> = job.pieces.values().cloned().collect();
    job.pieces = (0..many)
        .zip(known.iter().cycle())
        .map(|(n, piece)| {
            let piece = Piece {
                name: name(n),
                on: String::new(),
                order: format!("a{n:02}"),
                ..piece.clone()
            };
            (format!("piece{n:02}"), piece)
        })
        .collect();
}

fn words(job: &mut Job, private: &mut Private, own: &mut Own, words: [&str; 8]) {
    let [
        title,
        client,
        street,
        venue,
        house_rules,
        person,
        piece,
        firm,
    ] = words;
    job.name = title.into();
    job.venue.name = venue.into();
    job.venue.house_rules = house_rules.into();
    for hand in job.crew.values_mut() {
        hand.name = person.into();
    }
    for (n, one) in job.pieces.values_mut().enumerate() {
        one.name = format!("{piece} {}", n + 1);
    }
    private.client.name = client.into();
    private.client.address = street.into();
    private.prices.terms = house_rules.into();
    own.name = firm.into();
}

/// The ten.
pub fn ten() -> Vec<Hard> {
    vec![
        hard("one piece", |one| {
            let arch = one.job.pieces["arch"].clone();
            one.job.pieces.retain(|id, _| id == "arch");
            one.job.pieces.insert(
                "arch".into(),
                Piece {
                    on: String::new(),
                    ..arch
                },
            );
            one.job.doors.clear();
            one.private.charges.clear();
        }),
        hard("twenty pieces with long names", |one| {
            pieces(&mut one.job, 20, |n| {
                format!(
                    "{} The stair of honour beside the great northern window of the old harbour hall",
                    n + 1
                )
            });
            one.job.name =
                "The two hundredth birthday of the Ellerwater and Weir Valley Navigation Company"
                    .into();
            for hand in one.job.crew.values_mut() {
                hand.name = format!(
                    "{} Featherstonehaugh-Vanderbrinkhoff the younger",
                    hand.name
                );
            }
        }),
        hard("Greek and Cyrillic", |one| {
            words(
                &mut one.job,
                &mut one.private,
                &mut one.own,
                [
                    "Βάπτιση της Ελένης",
                    "Ευανθία Παπαδοπούλου-Κωνσταντίνου",
                    "Οδός Λιμανιού 14\nΠαλαιό Λιμάνι",
                    "Αίθουσα Λιμανιού",
                    "Δεν κολλάμε τίποτα στους τοίχους. Γλиттер не разрешён, и огонь тоже; вход только со двора.",
                    "Владислав Хрустальёв",
                    "Гирлянда над входом",
                    "Мастерская «Воздух»",
                ],
            );
        }),
        hard("letters of Europe", |one| {
            words(
                &mut one.job,
                &mut one.private,
                &mut one.own,
                [
                    "Þorgerður og Łukasz",
                    "Ægir Ðýrfjörð-Żółć",
                    "Ştefan Čech Straße 5\nŐrség",
                    "Größter Saal, Île d’Œuvre",
                    "Không dán gì lên tường. Ñandú, ąęśćż, ğışı, ľščťž, őű, țș, œæøå. Kein Glitzer, kein Feuer.",
                    "Nguyễn Thị Hằng",
                    "Guirlande à l’entrée",
                    "Květa & Ünal Ballondekor",
                ],
            );
            one.private.prices.currency = "PLN".into();
        }),
        hard("letters that are lacking", |one| {
            words(
                &mut one.job,
                &mut one.private,
                &mut one.own,
                [
                    "周年記念パーティー",
                    "山田 花子",
                    "東京都千代田区\n丸の内",
                    "שלום hall",
                    "لا شيء على الجدران 🎈🎉",
                    "김민준",
                    "花のアーチ",
                    "風船 Studio",
                ],
            );
            one.private.prices.currency = "JPY".into();
            one.lacks_letters = true;
        }),
        hard("at no price", |one| {
            let prices = &mut one.private.prices;
            prices.model = job::money::PriceModel::Package;
            prices.package_cents = 0;
            prices.tax_bp = 0;
            prices.travel_km_cents = 0;
            prices.minimum_cents = 0;
            prices.tax_note = "A gift to the school: nothing is asked for it.".into();
            one.private.charges.clear();
            one.private.costs.clear();
        }),
        hard("huge sums", |one| {
            let prices = &mut one.private.prices;
            prices.labour_h_cents = 99_999_999_999;
            prices.frame_cents = 99_999_999_999;
            prices.discount_pct = 7;
            prices.round_to_cents = 1_000;
            for (n, rate) in [500, 700, 825, 1_900].into_iter().enumerate() {
                let charge = Charge {
                    label: format!("Scaffold on the north side, week {}", n + 1),
                    cents: 98_765_432_109,
                    own_tax: true,
                    tax_bp: rate,
                    ..Charge::default()
                };
                one.private.charges.insert(format!("huge{n}"), charge);
            }
        }),
        hard("in yen, paid in parts", |one| {
            one.private.prices.currency = "JPY".into();
            one.private.prices.labour_h_cents = 4_500;
            one.private.prices.tax_bp = 1_000;
            one.private.prices.round_to_cents = 1_000;
            for (n, label) in [
                "On agreement",
                "When the colours are chosen",
                "A week before",
            ]
            .into_iter()
            .enumerate()
            {
                let part = Instalment {
                    label: label.into(),
                    pct: 30,
                    day: format!("2027-0{}-12", n + 4),
                    order: format!("{n}"),
                    ..Instalment::default()
                };
                one.private.instalments.insert(format!("part{n}"), part);
            }
        }),
        hard("in dinars, on Letter", |one| {
            one.private.prices.currency = "KWD".into();
            one.private.prices.discount_pct = 5;
            one.us = true;
            pieces(&mut one.job, 9, |n| format!("Table {}", n + 1));
        }),
        hard("many doors, hands and remarks, on Letter", |one| {
            one.us = true;
            let door: Door = one.job.doors.values().next().cloned().unwrap_or_default();
            let hand = one.job.crew.values().next().cloned().unwrap_or_default();
            for n in 0..9 {
                let name = format!("Door {n} between the kitchen passage and the lesser ballroom");
                let order = format!("z{n}");
                one.job.doors.insert(
                    format!("d{n}"),
                    Door {
                        name,
                        order: order.clone(),
                        ..door.clone()
                    },
                );
                let name = format!("Hand {n} Weatherby");
                one.job.crew.insert(
                    format!("h{n}"),
                    job::site::Crew {
                        name,
                        order,
                        ..hand.clone()
                    },
                );
            }
            let rule = "No adhesive on the panelling, no glitter, no open flame; the lift is shared with the kitchen until noon. ";
            one.job.venue.house_rules = rule.repeat(8);
            one.private.prices.terms = rule.repeat(20);
            one.private.prices.discount_pct = 10;
        }),
    ]
}
