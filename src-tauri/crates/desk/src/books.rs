//! Commands on the books that jobs copy from.

use job::{Book, Books, Edit, Finding, Part};
use serde_json::{Value, json};

use crate::Desk;
use crate::document::{accept, accept_book, completed, read};
use crate::fault::Fault;
use crate::jobs;
use crate::views::{
    BookId, BooksEdited, BooksView, Difference, EditBook, Edited, JobId, TakeColour,
};
use crate::words::{Words, split};

/// Fields that belong to the place of a copy, not to what was copied.
const OWN_FIELDS: [&str; 6] = ["order", "gone", "source", "pattern", "stays", "count"];

/// Makes the books that are not there yet, with starting values.
pub(crate) fn make_missing(desk: &mut Desk) -> Result<(), Fault> {
    let start = job::defaults::starting_books();
    for book in Book::ALL {
        if desk.store.book(book)?.is_none() {
            let value = serde_json::to_value(part_of(book, &start))
                .map_err(|e| Fault::new("internal", e.to_string(), "Try again."))?;
            desk.store.create_book(book, &value, |_| Ok(()))?;
        }
    }
    Ok(())
}

/// What one book holds of all.
fn part_of(book: Book, all: &Books) -> Books {
    let all = all.clone();
    match book {
        Book::Stockroom => Books {
            colours: all.colours,
            items: all.items,
            costs: all.costs,
            sundries: all.sundries,
            ..Books::default()
        },
        Book::People => Books {
            people: all.people,
            ..Books::default()
        },
        Book::Kit => Books {
            kit: all.kit,
            vehicles: all.vehicles,
            ..Books::default()
        },
        Book::Settings | Book::Newer => Books {
            own: all.own,
            rates: all.rates,
            rules: all.rules,
            prices: all.prices,
            ..Books::default()
        },
    }
}

/// All books as one. Missing ones are made first.
pub(crate) fn read_all(desk: &mut Desk) -> Result<BooksView, Fault> {
    make_missing(desk)?;
    let mut all = Books::default();
    let mut findings: Vec<Finding> = Vec::new();
    for book in Book::ALL {
        let Some(state) = desk.store.book(book)? else {
            continue;
        };
        let (read, more) = job::read::read::<Books>((*state.value).clone());
        findings.extend(more);
        match book {
            Book::Stockroom => {
                (all.colours, all.items, all.costs, all.sundries) =
                    (read.colours, read.items, read.costs, read.sundries);
            }
            Book::People => all.people = read.people,
            Book::Kit => (all.kit, all.vehicles) = (read.kit, read.vehicles),
            Book::Settings | Book::Newer => {
                (all.own, all.rates, all.rules, all.prices) =
                    (read.own, read.rates, read.rules, read.prices);
            }
        }
    }
    Ok(BooksView {
        books: all,
        findings,
    })
}

pub(crate) fn open(desk: &mut Desk, (): ()) -> Result<BooksView, Fault> {
    read_all(desk)
}

pub(crate) fn edit(desk: &mut Desk, args: EditBook) -> Result<BooksEdited, Fault> {
    make_missing(desk)?;
    let now_ms = desk.now_ms();
    let before = desk.store.book(args.book)?;
    let edits = completed(args.edits, before.as_ref().map(|s| &*s.value))?;
    let changed = desk
        .store
        .edit_book(args.book, &edits, &args.label, now_ms, |value| {
            accept_book::<Books>(value, &edits)
        })?;
    answered(desk, args.book, changed.paths)
}

pub(crate) fn undo(desk: &mut Desk, args: BookId) -> Result<BooksEdited, Fault> {
    let now_ms = desk.now_ms();
    let paths = match desk
        .store
        .undo_book(args.book, now_ms, |value| accept_book::<Books>(value, &[]))
    {
        Ok(done) => done.changed.paths,
        Err(store::StoreError::NothingToUndo) => Vec::new(),
        Err(error) => return Err(error.into()),
    };
    answered(desk, args.book, paths)
}

fn answered(desk: &mut Desk, book: Book, changed: Vec<Vec<String>>) -> Result<BooksEdited, Fault> {
    let undo = desk.store.book_labels(book)?.undo;
    Ok(BooksEdited {
        undo,
        changed,
        books: read_all(desk)?.books,
    })
}

pub(crate) fn take_colour(desk: &mut Desk, args: TakeColour) -> Result<Edited, Fault> {
    let books = read_all(desk)?.books;
    let now_ms = desk.now_ms();
    let state = desk.store.job(&args.id)?;
    let job = read(&state);
    let name = books
        .colours
        .get(&args.colour)
        .map(|c| c.name.clone())
        .ok_or_else(|| {
            Fault::new(
                "no_such_place",
                "This colour is not in the stockroom any more.",
                "Choose another colour.",
            )
        })?;
    let mut edits =
        job::defaults::take_colour(&books, &job.job, job.private.as_ref(), &args.colour);
    if job.job.colours.get(&args.colour).is_some_and(|c| c.gone) {
        edits.push(Edit::Restore {
            part: Part::Job,
            path: vec!["colours".into()],
            id: args.colour.clone(),
        });
    }
    let label = format!("Take {name} from the stockroom");
    let changed = desk.store.edit_job(&args.id, &edits, &label, now_ms, |s| {
        accept(&args.id, s, &edits, now_ms)
    })?;
    jobs::edited(desk, &args.id, changed)
}

pub(crate) fn differences(desk: &mut Desk, args: JobId) -> Result<Vec<Difference>, Fault> {
    let books = read_all(desk)?.books;
    let state = desk.store.job(&args.id)?;
    let read = read(&state);
    let books = as_value(&books)?;
    let job = as_value(&read.job)?;
    let private = read.private.as_ref().map(as_value).transpose()?;
    let mut compared = Compared {
        words: Words::of(&job, private.as_ref()),
        all: Vec::new(),
    };
    for (list, book_list) in [
        ("colours", "colours"),
        ("items", "items"),
        ("crew", "people"),
        ("kit", "kit"),
    ] {
        compared.lists(list, &job[list], &books[book_list]);
    }
    for record in ["rates", "rules"] {
        compared.records(&[record], &job[record], &books[record]);
    }
    if let Some(private) = &private {
        compared.records(&["private", "prices"], &private["prices"], &books["prices"]);
        for (id, cost) in private["costs"].as_object().into_iter().flatten() {
            if let Some(theirs) = books["costs"].get(id) {
                compared.records(&["private", "costs", id], cost, theirs);
            }
        }
    }
    Ok(compared.all)
}

fn as_value<T: serde::Serialize>(value: &T) -> Result<Value, Fault> {
    serde_json::to_value(value).map_err(|e| Fault::new("internal", e.to_string(), "Try again."))
}

/// Differences of a job from the books, as they are found.
struct Compared<'a> {
    words: Words<'a>,
    all: Vec<Difference>,
}

impl Compared<'_> {
    /// Items of a list that were copied from a book, against what the book says now.
    fn lists(&mut self, list: &str, ours: &Value, theirs: &Value) {
        for (id, item) in ours.as_object().into_iter().flatten() {
            let source = item["source"].as_str().unwrap_or_default();
            if item["gone"] == json!(true) || source.is_empty() {
                continue;
            }
            if let Some(from) = theirs.get(source).filter(|f| f["gone"] != json!(true)) {
                self.records(&[list, id], item, from);
            }
        }
    }

    /// One difference for each field.
    fn records(&mut self, path: &[&str], ours: &Value, theirs: &Value) {
        for (field, value) in ours.as_object().into_iter().flatten() {
            let Some(new) = theirs
                .get(field)
                .filter(|new| *new != value && !OWN_FIELDS.contains(&field.as_str()))
                // a book that does not say where a thing is bought takes no word away
                .filter(|new| field != "supplier" || **new != json!(""))
            else {
                continue;
            };
            let whole: Vec<String> = path
                .iter()
                .copied()
                .chain([field.as_str()])
                .map(Into::into)
                .collect();
            let (part, inside) = split(&whole);
            self.all.push(Difference {
                what: self.words.path(&whole),
                in_job: self.words.value(&whole, value),
                in_book: self.words.value(&whole, new),
                edits: vec![Edit::Set {
                    part,
                    path: inside,
                    value: new.clone(),
                }],
            });
        }
    }
}
