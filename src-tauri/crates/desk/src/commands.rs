//! The one list of commands. It makes the dispatcher of both doors and the TypeScript of the page.
//!
//! Four kinds: of the store or not, JSON alone or with bytes. What needs no store never waits for it.

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

use crate::fault::{Fault, unknown};
use crate::times::{AskEnquiry, JobNow, JobStill, JobsTogether};
use crate::views::*;
use crate::{Desk, books, compute, day, files, jobs, money, photos, picture, times};

/// Declares `name(Arguments) -> Answer = function;` in four groups.
macro_rules! commands {
    (
        store { $($(#[doc = $s_doc:literal])* $s:ident($s_args:ty) -> $s_answer:ty = $s_run:path;)* }
        store_bytes { $($(#[doc = $sb_doc:literal])* $sb:ident($sb_args:ty) -> $sb_answer:ty = $sb_run:path;)* }
        compute { $($(#[doc = $c_doc:literal])* $c:ident($c_args:ty) -> $c_answer:ty = $c_run:path;)* }
        compute_bytes { $($(#[doc = $cb_doc:literal])* $cb:ident($cb_args:ty) -> $cb_answer:ty = $cb_run:path;)* }
    ) => {
        /// Whether the command is one of the store's.
        #[must_use]
        pub fn needs_store(name: &str) -> bool {
            [$(stringify!($s),)* $(stringify!($sb),)*].contains(&name)
        }

        pub(crate) fn call(desk: &mut Desk, name: &str, args: Value) -> Result<Value, Fault> {
            match name {
                $(stringify!($s) => answer($s_run(desk, arguments::<$s_args>(args)?)?),)*
                _ => Err(unknown(name)),
            }
        }

        pub(crate) fn call_bytes(desk: &mut Desk, name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
            match name {
                $(stringify!($sb) => { let (a, b): ($sb_answer, Vec<u8>) = $sb_run(desk, arguments::<$sb_args>(args)?, body)?; Ok((answer(a)?, b)) })*
                _ => Err(unknown(name)),
            }
        }

        pub(crate) fn compute_json(name: &str, args: Value) -> Result<Value, Fault> {
            match name {
                $(stringify!($c) => answer($c_run(arguments::<$c_args>(args)?)?),)*
                _ => Err(unknown(name)),
            }
        }

        pub(crate) fn compute_with_bytes(name: &str, args: Value, body: &[u8]) -> Result<(Value, Vec<u8>), Fault> {
            match name {
                $(stringify!($cb) => { let (a, b): ($cb_answer, Vec<u8>) = $cb_run(arguments::<$cb_args>(args)?, body)?; Ok((answer(a)?, b)) })*
                _ => Err(unknown(name)),
            }
        }

        /// What the page may ask: group, name, doc lines, names of argument and answer types, and every type they need.
        #[cfg(test)]
        pub(crate) fn describe(page: &mut crate::typescript::Page) {
            $(page.command::<$s_args, $s_answer>("Commands", stringify!($s), &[$($s_doc),*]);)*
            $(page.command::<$sb_args, $sb_answer>("ByteCommands", stringify!($sb), &[$($sb_doc),*]);)*
            $(page.command::<$c_args, $c_answer>("ComputeCommands", stringify!($c), &[$($c_doc),*]);)*
            $(page.command::<$cb_args, $cb_answer>("ComputeByteCommands", stringify!($cb), &[$($cb_doc),*]);)*
        }
    };
}

commands! {
    store {
        /// Version, formats, zone data, and the id of this device.
        about(()) -> About = crate::about;
        /// Fills an empty database: starting books and a demo job. Answers what was made; nothing if there is anything already.
        first_start(FirstStart) -> FirstStarted = jobs::first_start;
        /// All jobs, the next one first; those put away are marked.
        list_jobs(()) -> Vec<JobRow> = jobs::list;
        /// A new job with rates, rules, prices, people, kit and vehicle from the books.
        create_job(CreateJob) -> JobView = jobs::create;
        /// A new job with everything of an old one but times, ticks, notes and kept moments.
        copy_job(CopyJob) -> JobView = jobs::copy;
        /// The demo job once more.
        create_demo(FirstStart) -> JobView = jobs::create_demo;
        /// One job, whole.
        open_job(JobId) -> JobView = jobs::open;
        /// Changes fields of a job; all edits or none.
        edit_job(EditJob) -> Edited = jobs::edit;
        /// Ticks a step, takes the tick back, or skips the step, for this device.
        tick(TickStep) -> Ticked = jobs::tick;
        /// Gives a step to one of the people, or back to whom the plan names.
        assign_step(AssignStep) -> Edited = day::assign;
        /// Where this device likes to see a step.
        place_step(PlaceStep) -> Edited = day::place;
        /// Keeps a signed hand-over. On a device without client and money it is all that it keeps of them.
        sign_hand_over(SignHandOver) -> Edited = day::sign;
        /// Takes back the last edit that this device made to the job.
        undo(JobId) -> Undone = jobs::undo;
        /// Makes the edit that was taken back once more.
        redo(JobId) -> Undone = jobs::redo;
        /// Copies a colour with its balloons and costs from the stockroom into the job.
        take_colour(TakeColour) -> Edited = books::take_colour;
        /// Where the job's copies differ from the books, with the edits that would take the books' values over.
        differences(JobId) -> Vec<Difference> = books::differences;
        /// The stockroom, people, kit, vehicles and settings.
        open_books(()) -> BooksView = books::open;
        /// Changes fields of a book; all edits or none.
        edit_book(EditBook) -> BooksEdited = books::edit;
        /// Takes back the last edit of a book.
        undo_book(BookId) -> BooksEdited = books::undo;
        /// Removes the client's data from a job for good, on this device and, by a mark, wherever the job file gets to.
        erase_client(JobId) -> JobView = jobs::erase_client;
        /// Frees photos that nothing names any more. Asked again it goes on where it ended.
        sweep_photos(()) -> Swept = photos::sweep;
        /// A job from five answers on the telephone.
        create_quick(CreateQuick) -> JobView = money::create_quick;
        /// Who issues numbers, and which ones come next.
        bill_numbers(()) -> BillNumbers = money::numbers;
        /// Gives a bill its number and keeps it for ever. Only the device that issues numbers does.
        issue_bill(IssueBill) -> Edited = money::issue;
        /// Everything that this device issued, oldest first.
        issued_bills(()) -> Vec<IssuedBill> = money::issued;
        /// The figures of all settled jobs, to be learnt from.
        settled_jobs(()) -> Vec<plan::spent::Settled> = money::settled;
        /// All that is held on the client of a job, now and earlier.
        client_record(JobId) -> ClientRecord = jobs::client_record;
    }
    store_bytes {
        /// The job as a file for another device; a crew copy leaves out client and money.
        export_job(ExportJob) -> FileInfo = files::export_job;
        /// The same in parts: the bytes between its photos come with the answer, the photos are files that the host puts in.
        pack_job(ExportJob) -> PackedJob = files::pack_job;
        /// What a job file would bring, and whether it would change the plan. Nothing is kept.
        look_into_job_file(()) -> Incoming = files::look_into_job_file;
        /// Adds the job of a file, or merges it, and says what came in.
        open_job_file(()) -> CameIn = files::open_job_file;
        /// Keeps a JPEG or PNG picture for a job. The job names it by its hash.
        add_photo(AddPhoto) -> PhotoAdded = photos::add;
        /// A photo that is kept here.
        photo(PhotoOf) -> PhotoInfo = photos::photo;
        /// The whole database as one file.
        backup(()) -> FileInfo = files::backup;
        /// Replaces everything by a backup, after checking it.
        restore(()) -> About = files::restore;
    }
    compute {
        /// The plan of a job.
        plan(PlanJob) -> plan::Plan = compute::plan;
        /// Where everything of a job stands in one room.
        scene(PlanJob) -> plan::scene::Scene = picture::scene;
        /// How long work takes, spares and freshness before anybody changed them.
        starting_values(()) -> StartingValues = compute::starting_values;
        /// How this decorator leaves necks and presses balloons, from two numbers of a finished garland.
        calibrate(MeasuredPiece) -> plan::calibrate::Calibrated = compute::calibrate;
        /// A quote, invoice or credit note of a job, without a number.
        bill(MakeBill) -> BillMade = money::bill;
        /// What a job really cost, and what earlier jobs teach for it.
        actual(AskActual) -> ActualView = money::actual;
        /// What a job from five answers would cost.
        quick_price(QuickPrice) -> QuickMade = money::quick_price;
        /// A job on its day: what is late, when it will be finished, what comes next for each person.
        live(JobNow) -> plan::times::live::Live = times::live;
        /// What still helps a job that is late on its day, from now on.
        still(JobStill) -> Vec<plan::times::still::Still> = times::still;
        /// The same job with more people, fewer, another load-in, another inflator, side by side.
        what_if(PlanJob) -> Vec<plan::what_if::Way> = times::what_if;
        /// For each piece with balloons: blown in the studio or at the venue, with what comes of either.
        blown_where(PlanJob) -> Vec<plan::load::choice::Choice> = times::blown_where;
        /// Who and what is wanted by two of these jobs at once, and whom they leave too little rest.
        clashes(JobsTogether) -> plan::clashes::Together = times::clashes;
        /// Can we take this enquiry? A job that is asked for against those near it.
        enquiry(AskEnquiry) -> plan::enquiry::Enquiry = times::enquiry;
        /// What the timed steps of these jobs say about the decorator's own rates.
        own_rates(JobsTogether) -> Vec<plan::learn::OwnRate> = times::own_rates;
        /// What they say about each person's pace beside those rates.
        own_paces(JobsTogether) -> Vec<plan::learn::OwnPace> = times::own_paces;
        /// How long a garland the shelf makes.
        length_from_shelf(PieceOfJob) -> plan::stock_length::ShelfLength = compute::length_from_shelf;
    }
    compute_bytes {
        /// A paper as PDF, CSV or calendar file.
        paper(MakePaper) -> PaperMade = compute::paper;
        /// A quote, invoice or credit note as PDF.
        bill_paper(MakeBillPaper) -> PaperMade = money::bill_paper;
        /// An invoice or credit note for programs (UBL 2.1, EN 16931).
        bill_xml(MakeBillPaper) -> PaperMade = money::bill_xml;
        /// A picture of a job as PNG. If it stands before a photograph, that goes in: red, green, blue of each pixel, row by row.
        picture(MakePicture) -> PictureMade = picture::picture;
    }
}

/// Reads the arguments; a misfit is a fault. A command that takes nothing accepts null or an empty record.
fn arguments<T: DeserializeOwned>(args: Value) -> Result<T, Fault> {
    serde_json::from_value::<T>(args).map_err(|error| {
        Fault::new(
            "bad_arguments",
            format!("The command was asked for with the wrong values: {error}."),
            "",
        )
    })
}

/// Writes the answer.
fn answer<T: Serialize>(value: T) -> Result<Value, Fault> {
    serde_json::to_value(value).map_err(|error| {
        Fault::new(
            "internal",
            format!("The answer cannot be written: {error}."),
            "Try again.",
        )
    })
}
