//! What goes through the door: arguments and answers of the commands.

use job::stock::{Rates, Rules};
use job::{Book, Books, Edit, Finding, Ids, Job, Private};

use crate::words::{Area, Shown};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Shared derives of arguments and answers.
macro_rules! view {
    ($($(#[$meta:meta])* pub struct $name:ident { $($(#[$fmeta:meta])* pub $field:ident : $ty:ty,)* })*) => {$(
        $(#[$meta])*
        #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
        pub struct $name { $($(#[$fmeta])* pub $field: $ty,)* }
    )*};
}

mod money;
mod papers;

pub use money::*;
pub use papers::*;

view! {
    /// The program and this device.
    pub struct About {
        /// Version of the program.
        pub version: String,
        /// Newest format of a job document that it writes.
        pub format: i64,
        /// Version of the rules that make plans.
        pub engine: String,
        /// Version of the time zone data.
        pub zones: String,
        /// This device, as ticks name it.
        pub device: String,
    }

    /// Today's date where the user is, so that the demo job lies ahead.
    pub struct FirstStart {
        /// `YYYY-MM-DD`.
        pub today: String,
    }

    /// What the first start made.
    pub struct FirstStarted {
        /// The demo job, if one was made.
        pub demo: Option<String>,
    }

    /// A job by its id.
    pub struct JobId {
        /// The job.
        pub id: String,
    }

    /// A job in the list.
    pub struct JobRow {
        /// Its id.
        pub id: String,
        /// Its name.
        pub name: String,
        /// Occasion.
        pub occasion: String,
        /// How far it has come.
        pub stage: job::Stage,
        /// The venue's name.
        pub venue: String,
        /// Zone of its times.
        pub zone: String,
        /// Agreed ready-by, wall clock; empty while not agreed.
        pub ready_by: String,
        /// The same as an instant, for sorting, ms; absent while not agreed or not readable.
        pub ready_by_ms: Option<i64>,
        /// Pieces in it.
        pub pieces: i64,
        /// Steps ticked.
        pub ticked: i64,
        /// Put away.
        pub gone: bool,
        /// Fields that devices set apart and nobody has settled.
        #[serde(default)]
        pub apart: i64,
        /// Last change on this device, ms.
        pub changed_ms: i64,
    }

    /// A new job.
    pub struct CreateJob {
        /// Its name.
        pub name: String,
    }

    /// A new job after an old one.
    pub struct CopyJob {
        /// The old one.
        pub id: String,
        /// The new one's name.
        pub name: String,
    }

    /// One job, whole.
    pub struct JobView {
        /// Its id.
        pub id: String,
        /// Counts up with every change on this device.
        pub revision: i64,
        /// The job.
        pub job: Job,
        /// Client and money; absent in a crew copy.
        pub private: Option<Private>,
        /// Hand-overs signed on the screen; on a device of the crew those that were signed there.
        pub signatures: Ids<job::day::Signature>,
        /// What could not be read in it.
        pub findings: Vec<Finding>,
        /// What devices set apart in it and nobody has settled.
        pub apart: Vec<Apart>,
        /// What undo would take back; absent if nothing.
        pub undo: Option<String>,
        /// What redo would do again; absent if nothing.
        pub redo: Option<String>,
    }

    /// Edits of a job.
    pub struct EditJob {
        /// The job.
        pub id: String,
        /// What the edit is called in "Undo …".
        pub label: String,
        /// All are made, or none.
        pub edits: Vec<Edit>,
    }

    /// Who takes a step.
    pub struct AssignStep {
        /// The job.
        pub id: String,
        /// The step.
        pub step: String,
        /// What the step says.
        pub what: String,
        /// The person, by the id in the job's crew; empty is as planned.
        pub crew: String,
    }

    /// Where this device likes to see a step.
    pub struct PlaceStep {
        /// The job.
        pub id: String,
        /// The step.
        pub step: String,
        /// What the step says.
        pub what: String,
        /// The step before it; empty is the plan's own place, unless it is the first.
        pub after: String,
        /// Before all others of its phase.
        pub first: bool,
    }

    /// A hand-over that was signed on the screen.
    pub struct SignHandOver {
        /// The job.
        pub id: String,
        /// Who signed.
        pub name: String,
        /// What the client wanted to be written down.
        pub remarks: String,
        /// The pen's way, `x y x y;x y`, in a box of 3000 by 1000.
        pub strokes: String,
        /// Points of the walk-through that were ticked.
        pub ticked: i64,
        /// Points in all.
        pub of: i64,
        /// Who took it.
        pub taken_by: String,
    }

    /// What an edit changed.
    pub struct Edited {
        /// Paths that were written; those of the private part begin with `private`.
        pub changed: Vec<Vec<String>>,
        /// The job as it now is.
        pub view: JobView,
    }

    /// What undo or redo changed.
    pub struct Undone {
        /// What was taken back or done again; absent if there was nothing.
        pub label: Option<String>,
        /// Paths that were written.
        pub changed: Vec<Vec<String>>,
        /// Paths that somebody had changed since: their newer value was replaced as well.
        pub changed_since: Vec<Vec<String>>,
        /// The job as it now is.
        pub view: JobView,
    }

    /// A tick.
    pub struct TickStep {
        /// The job.
        pub id: String,
        /// The step.
        pub step: String,
        /// Done, or taken back.
        pub done: bool,
        /// Left out on purpose.
        pub skipped: bool,
        /// Why it was left out; may be empty.
        #[serde(default)]
        pub reason: String,
        /// How much is done, in the step's unit.
        pub quantity: i64,
        /// What the step says.
        pub what: String,
        /// Who did it.
        pub who: String,
        /// How long it took by this device's timer, s; 0 if not timed.
        pub took_s: i64,
    }

    /// A tick that is on disk.
    pub struct Ticked {
        /// The job's revision.
        pub revision: i64,
        /// Its key among the job's ticks.
        pub key: String,
        /// The tick.
        pub tick: job::site::Tick,
        /// What undo would take back.
        pub undo: Option<String>,
    }

    /// A colour of the stockroom for a job.
    pub struct TakeColour {
        /// The job.
        pub id: String,
        /// The colour's id in the stockroom.
        pub colour: String,
    }

    /// A place where a job's copy differs from the books.
    pub struct Difference {
        /// What it is called.
        pub what: String,
        /// Value in the job.
        pub in_job: Shown,
        /// Value in the books.
        pub in_book: Shown,
        /// Edits that take the books' value over.
        pub edits: Vec<Edit>,
    }

    /// All books.
    pub struct BooksView {
        /// Their content.
        pub books: Books,
        /// What could not be read in them.
        pub findings: Vec<Finding>,
    }

    /// Edits of a book.
    pub struct EditBook {
        /// Which book.
        pub book: Book,
        /// What the edit is called in "Undo …".
        pub label: String,
        /// All are made, or none.
        pub edits: Vec<Edit>,
    }

    /// A book by its name.
    pub struct BookId {
        /// Which book.
        pub book: Book,
    }

    /// What an edit of a book changed.
    pub struct BooksEdited {
        /// What undo would take back in this book; absent if nothing.
        pub undo: Option<String>,
        /// Paths that were written.
        pub changed: Vec<Vec<String>>,
        /// The books as they now are.
        pub books: Books,
    }

    /// All that is held on a client.
    pub struct ClientRecord {
        /// As readable JSON, for handing out.
        pub json: String,
    }

    /// A job as a file.
    pub struct ExportJob {
        /// The job.
        pub id: String,
        /// Without client and money.
        pub crew_copy: bool,
    }

    /// A file that was made.
    pub struct FileInfo {
        /// A name for it, safe on every system.
        pub name: String,
        /// Its kind.
        pub mime: String,
    }

    /// A job as a file in parts.
    pub struct PackedJob {
        /// A name for it, safe on every system.
        pub name: String,
        /// Its kind.
        pub mime: String,
        /// One after the other they are the file.
        pub parts: Vec<PackedPart>,
        /// Photos that the job names and that the file has no room for: they stay on this device.
        pub left_out: i64,
    }

    /// A stretch of a job file.
    pub struct PackedPart {
        /// The file of the photo that it is; empty if it is the next of the bytes beside the answer.
        pub photo: String,
        /// Its length, bytes.
        pub bytes: i64,
    }

    /// What came in with a job file.
    pub struct CameIn {
        /// The job.
        pub id: String,
        /// Its name.
        pub name: String,
        /// The job was not here before.
        pub created: bool,
        /// Ticks that were new.
        pub ticks: i64,
        /// Notes that were new.
        pub notes: i64,
        /// Photos that were not here.
        pub photos: i64,
        /// What else has another value than before.
        pub changes: Vec<Change>,
        /// What the device that the file comes from does not have.
        pub home: Home,
        /// The client's data were erased, here or where the file comes from.
        pub client_erased: bool,
        /// What this device and the other set apart.
        pub apart: Vec<Apart>,
        /// How far the clock of the other device is off, s; 0 if it goes as ours.
        pub clocks_apart_s: i64,
    }

    /// What a job file lacks.
    pub struct Home {
        /// Ticks.
        pub ticks: i64,
        /// Notes.
        pub notes: i64,
        /// Photos.
        pub photos: i64,
        /// Fields with another value.
        pub changes: i64,
    }

    /// What a job file would bring. Nothing is kept.
    pub struct Incoming {
        /// What would come in.
        pub came: CameIn,
        /// It would change the plan of a job that is here: the user is asked first.
        pub asks: bool,
        /// The job as it is; absent if it is not here.
        pub before: Option<Both>,
        /// The job as it would be.
        pub after: Both,
    }

    /// A job with its private part.
    pub struct Both {
        /// The job.
        pub job: Job,
        /// Client and money; absent in a crew copy.
        pub private: Option<Private>,
    }

    /// A field or an item that differs.
    pub struct Change {
        /// What it is called.
        pub what: String,
        /// How.
        pub kind: ChangeKind,
        /// Where in the work it belongs.
        pub area: Area,
        /// What it was; empty unless it was set.
        pub before: Shown,
        /// What it is.
        pub after: Shown,
    }

    /// A field that devices set apart. One value holds until somebody chooses; the choice holds on every device.
    pub struct Apart {
        /// What it is called.
        pub what: String,
        /// Where in the work it belongs.
        pub area: Area,
        /// What was said; the first holds meanwhile.
        pub values: Vec<ApartValue>,
    }

    /// What one device said.
    pub struct ApartValue {
        /// The value; of a record that was made twice, the fields that differ.
        pub fields: Vec<ApartField>,
        /// On this device.
        pub here: bool,
        /// Who ticks on the device that said it; empty if not known.
        pub who: String,
        /// When, by the clock of that device, ms; 0 if not known.
        pub at_ms: i64,
        /// What keeps it.
        pub edits: Vec<Edit>,
    }

    /// A value with the name of its field.
    pub struct ApartField {
        /// What the field is called; empty if there is only one.
        pub name: String,
        /// What was said.
        pub value: Shown,
    }

    /// A photo for a job.
    pub struct AddPhoto {
        /// The job.
        pub job: String,
    }

    /// A photo that is on disk.
    pub struct PhotoAdded {
        /// What it is known by: the SHA-256 of its bytes, 64 hexadecimal digits.
        pub hash: String,
        /// Its width, px.
        pub width: i64,
        /// Its height, px.
        pub height: i64,
        /// Its length, bytes.
        pub bytes: i64,
    }

    /// A photo by its hash.
    pub struct PhotoOf {
        /// What it is known by.
        pub hash: String,
    }

    /// A photo, beside its bytes.
    pub struct PhotoInfo {
        /// `image/jpeg` or `image/png`.
        pub mime: String,
    }

    /// Photos that were freed, because nothing named them any more.
    pub struct Swept {
        /// How many.
        pub photos: i64,
        /// Their length, bytes, as far as it was known.
        pub bytes: i64,
        /// There is more to look over: ask again.
        pub more: bool,
    }

    /// A job to plan.
    pub struct PlanJob {
        /// The job.
        pub job: Job,
        /// Client and money; absent in a crew copy.
        pub private: Option<Private>,
        /// How closely its garlands are counted; to the end if absent.
        #[serde(default)]
        #[ts(optional)]
        pub depth: Option<plan::Depth>,
    }

    /// What rates and rules begin with.
    pub struct StartingValues {
        /// How long work takes.
        pub rates: Rates,
        /// Spares, freshness, transport.
        pub rules: Rules,
    }

    /// A finished garland that was measured.
    pub struct MeasuredPiece {
        /// The job.
        pub job: Job,
        /// The piece's id.
        pub piece: String,
        /// Its length, tip to tip, mm.
        pub length_mm: i64,
        /// Its mean width, mm.
        pub width_mm: i64,
    }

    /// A piece of a job.
    pub struct PieceOfJob {
        /// The job.
        pub job: Job,
        /// The piece's id.
        pub piece: String,
    }

    /// A picture to take.
    pub struct MakePicture {
        /// The job.
        pub job: Job,
        /// How closely its garlands are counted; to the end if absent.
        #[serde(default)]
        #[ts(optional)]
        pub depth: Option<plan::Depth>,
        /// In pixels, 16 to 8192; no more than 24 million pixels in all.
        pub width: i64,
        /// In pixels.
        pub height: i64,
        /// The camera goes round to the right, degrees; 0 is straight ahead.
        pub yaw_deg: i64,
        /// The camera goes up, degrees.
        pub pitch_deg: i64,
        /// Only this piece, with the frame that it hangs on; the whole job if absent.
        #[serde(default)]
        #[ts(optional)]
        pub piece: Option<String>,
        /// Nothing behind the pieces. Without it they stand in a room of paper.
        pub transparent: bool,
        /// To the scale of the photograph that goes in, straight ahead; then the angles do not count.
        #[serde(default)]
        #[ts(optional)]
        pub photo: Option<PhotoScale>,
    }

    /// The scale of a photograph of the size of the picture.
    pub struct PhotoScale {
        /// Thousandths of a millimetre of the room to a pixel.
        pub um_per_px: i64,
        /// The pixel on which x = 0 of the room lies, from the left.
        pub x_px: i64,
        /// The pixel on which the floor lies, from the top.
        pub y_px: i64,
    }

    /// A picture that was taken.
    pub struct PictureMade {
        /// A name for the file, safe on every system.
        pub name: String,
        /// Its kind.
        pub mime: String,
        /// In pixels.
        pub width: i64,
        /// In pixels.
        pub height: i64,
        /// Balloons in it.
        pub balls: i64,
    }
}
