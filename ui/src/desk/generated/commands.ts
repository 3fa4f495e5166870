// Made from the list of commands by `UPDATE=1 cargo test -p desk`. Not written by hand.

export interface ByteCommands {
  /** The job as a file for another device; a crew copy leaves out client and money. */
  export_job: { args: ExportJob; answer: FileInfo };
  /** The same in parts: the bytes between its photos come with the answer, the photos are files that the host puts in. */
  pack_job: { args: ExportJob; answer: PackedJob };
  /** What a job file would bring, and whether it would change the plan. Nothing is kept. */
  look_into_job_file: { args: null; answer: Incoming };
  /** Adds the job of a file, or merges it, and says what came in. */
  open_job_file: { args: null; answer: CameIn };
  /** Keeps a JPEG or PNG picture for a job. The job names it by its hash. */
  add_photo: { args: AddPhoto; answer: PhotoAdded };
  /** A photo that is kept here. */
  photo: { args: PhotoOf; answer: PhotoInfo };
  /** The whole database as one file. */
  backup: { args: null; answer: FileInfo };
  /** Replaces everything by a backup, after checking it. */
  restore: { args: null; answer: About };
}

export interface Commands {
  /** Version, formats, zone data, and the id of this device. */
  about: { args: null; answer: About };
  /** Fills an empty database: starting books and a demo job. Answers what was made; nothing if there is anything already. */
  first_start: { args: FirstStart; answer: FirstStarted };
  /** All jobs, the next one first; those put away are marked. */
  list_jobs: { args: null; answer: Array<JobRow> };
  /** A new job with rates, rules, prices, people, kit and vehicle from the books. */
  create_job: { args: CreateJob; answer: JobView };
  /** A new job with everything of an old one but times, ticks, notes and kept moments. */
  copy_job: { args: CopyJob; answer: JobView };
  /** The demo job once more. */
  create_demo: { args: FirstStart; answer: JobView };
  /** One job, whole. */
  open_job: { args: JobId; answer: JobView };
  /** Changes fields of a job; all edits or none. */
  edit_job: { args: EditJob; answer: Edited };
  /** Ticks a step, takes the tick back, or skips the step, for this device. */
  tick: { args: TickStep; answer: Ticked };
  /** Gives a step to one of the people, or back to whom the plan names. */
  assign_step: { args: AssignStep; answer: Edited };
  /** Where this device likes to see a step. */
  place_step: { args: PlaceStep; answer: Edited };
  /** Keeps a signed hand-over. On a device without client and money it is all that it keeps of them. */
  sign_hand_over: { args: SignHandOver; answer: Edited };
  /** Takes back the last edit that this device made to the job. */
  undo: { args: JobId; answer: Undone };
  /** Makes the edit that was taken back once more. */
  redo: { args: JobId; answer: Undone };
  /** Copies a colour with its balloons and costs from the stockroom into the job. */
  take_colour: { args: TakeColour; answer: Edited };
  /** Where the job's copies differ from the books, with the edits that would take the books' values over. */
  differences: { args: JobId; answer: Array<Difference> };
  /** The stockroom, people, kit, vehicles and settings. */
  open_books: { args: null; answer: BooksView };
  /** Changes fields of a book; all edits or none. */
  edit_book: { args: EditBook; answer: BooksEdited };
  /** Takes back the last edit of a book. */
  undo_book: { args: BookId; answer: BooksEdited };
  /** Removes the client's data from a job for good, on this device and, by a mark, wherever the job file gets to. */
  erase_client: { args: JobId; answer: JobView };
  /** Frees photos that nothing names any more. Asked again it goes on where it ended. */
  sweep_photos: { args: null; answer: Swept };
  /** A job from five answers on the telephone. */
  create_quick: { args: CreateQuick; answer: JobView };
  /** Who issues numbers, and which ones come next. */
  bill_numbers: { args: null; answer: BillNumbers };
  /** Gives a bill its number and keeps it for ever. Only the device that issues numbers does. */
  issue_bill: { args: IssueBill; answer: Edited };
  /** Everything that this device issued, oldest first. */
  issued_bills: { args: null; answer: Array<IssuedBill> };
  /** The figures of all settled jobs, to be learnt from. */
  settled_jobs: { args: null; answer: Array<Settled> };
  /** All that is held on the client of a job, now and earlier. */
  client_record: { args: JobId; answer: ClientRecord };
}

export interface ComputeByteCommands {
  /** A paper as PDF, CSV or calendar file. */
  paper: { args: MakePaper; answer: PaperMade };
  /** A quote, invoice or credit note as PDF. */
  bill_paper: { args: MakeBillPaper; answer: PaperMade };
  /** An invoice or credit note for programs (UBL 2.1, EN 16931). */
  bill_xml: { args: MakeBillPaper; answer: PaperMade };
  /** A picture of a job as PNG. If it stands before a photograph, that goes in: red, green, blue of each pixel, row by row. */
  picture: { args: MakePicture; answer: PictureMade };
}

export interface ComputeCommands {
  /** The plan of a job. */
  plan: { args: PlanJob; answer: Plan };
  /** Where everything of a job stands in one room. */
  scene: { args: PlanJob; answer: Scene };
  /** How long work takes, spares and freshness before anybody changed them. */
  starting_values: { args: null; answer: StartingValues };
  /** How this decorator leaves necks and presses balloons, from two numbers of a finished garland. */
  calibrate: { args: MeasuredPiece; answer: Calibrated };
  /** A quote, invoice or credit note of a job, without a number. */
  bill: { args: MakeBill; answer: BillMade };
  /** What a job really cost, and what earlier jobs teach for it. */
  actual: { args: AskActual; answer: ActualView };
  /** What a job from five answers would cost. */
  quick_price: { args: QuickPrice; answer: QuickMade };
  /** A job on its day: what is late, when it will be finished, what comes next for each person. */
  live: { args: JobNow; answer: Live };
  /** What still helps a job that is late on its day, from now on. */
  still: { args: JobStill; answer: Array<Still> };
  /** The same job with more people, fewer, another load-in, another inflator, side by side. */
  what_if: { args: PlanJob; answer: Array<Way> };
  /** For each piece with balloons: blown in the studio or at the venue, with what comes of either. */
  blown_where: { args: PlanJob; answer: Array<Choice> };
  /** Who and what is wanted by two of these jobs at once, and whom they leave too little rest. */
  clashes: { args: JobsTogether; answer: Together };
  /** Can we take this enquiry? A job that is asked for against those near it. */
  enquiry: { args: AskEnquiry; answer: Enquiry };
  /** What the timed steps of these jobs say about the decorator's own rates. */
  own_rates: { args: JobsTogether; answer: Array<OwnRate> };
  /** What they say about each person's pace beside those rates. */
  own_paces: { args: JobsTogether; answer: Array<OwnPace> };
  /** How long a garland the shelf makes. */
  length_from_shelf: { args: PieceOfJob; answer: ShelfLength };
}

/**
 * The program and this device.
 */
export type About = { 
/**
 * Version of the program.
 */
version: string, 
/**
 * Newest format of a job document that it writes.
 */
format: number, 
/**
 * Version of the rules that make plans.
 */
engine: string, 
/**
 * Version of the time zone data.
 */
zones: string, 
/**
 * This device, as ticks name it.
 */
device: string, };

/**
 * What a job really cost.
 */
export type Actual = { 
/**
 * Studio, way, venue, taking down.
 */
phases: Array<PhaseActual>, 
/**
 * Item by item.
 */
goods: Array<GoodsActual>, 
/**
 * Working time planned, all people, s.
 */
planned_s: number, 
/**
 * Working time that it took, s.
 */
took_s: number, 
/**
 * Goods as planned, cents.
 */
planned_goods_cents: number, 
/**
 * Goods as used or typed, cents.
 */
goods_cents: number, 
/**
 * Whatever else was paid for, cents.
 */
other_cents: number, 
/**
 * What the client pays, without tax, cents.
 */
net_cents: number, 
/**
 * What is left for the hours, cents: the net price without goods and whatever else was paid for.
 */
left_cents: number, 
/**
 * The same as planned, cents.
 */
planned_left_cents: number, 
/**
 * What an hour really earned, cents; absent if no time is known.
 */
hour_cents: number | null, 
/**
 * What an hour was planned to earn, cents.
 */
planned_hour_cents: number | null, 
/**
 * Left of the net price, per mille; absent of a price of nought.
 */
margin_pm: number | null, };

/**
 * What a job really cost.
 */
export type ActualView = { 
/**
 * Hours, goods, margin.
 */
actual: Actual, 
/**
 * What earlier jobs teach; absent while there are too few.
 */
advice: Advice | null, 
/**
 * What the job would keep if it were settled now.
 */
settled: Spent, };

/**
 * A photo for a job.
 */
export type AddPhoto = { 
/**
 * The job.
 */
job: string, };

/**
 * What earlier jobs teach for this one.
 */
export type Advice = { 
/**
 * Jobs that it rests on.
 */
jobs: number, 
/**
 * Hours took so many per mille of the planned ones: the middle of the jobs.
 */
hours_pm: number, 
/**
 * An hour earned so much after goods, cents: the middle.
 */
hour_cents: number, 
/**
 * A metre of garland or chain was charged with so much net, cents: the middle of jobs that had some.
 */
metre_cents: number | null, 
/**
 * This job: hours to be expected, s.
 */
expected_s: number, 
/**
 * This job: its net price with the hours to be expected instead of the planned ones, at the rate of the job, cents.
 */
net_cents: number, };

/**
 * The answer.
 */
export type Answer = "yes" | "yes_if" | "no" | "unknown";

/**
 * A field that devices set apart. One value holds until somebody chooses; the choice holds on every device.
 */
export type Apart = { 
/**
 * What it is called.
 */
what: string, 
/**
 * Where in the work it belongs.
 */
area: Area, 
/**
 * What was said; the first holds meanwhile.
 */
values: Array<ApartValue>, };

/**
 * A value with the name of its field.
 */
export type ApartField = { 
/**
 * What the field is called; empty if there is only one.
 */
name: string, 
/**
 * What was said.
 */
value: Shown, };

/**
 * What one device said.
 */
export type ApartValue = { 
/**
 * The value; of a record that was made twice, the fields that differ.
 */
fields: Array<ApartField>, 
/**
 * On this device.
 */
here: boolean, 
/**
 * Who ticks on the device that said it; empty if not known.
 */
who: string, 
/**
 * When, by the clock of that device, ms; 0 if not known.
 */
at_ms: number, 
/**
 * What keeps it.
 */
edits: Array<Edit>, };

/**
 * Where in the work a field belongs.
 */
export type Area = "job" | "times" | "venue" | "way" | "people" | "kit" | "pieces" | "stock" | "rates" | "kept" | "client" | "price" | "bills" | "site";

/**
 * How the colours lie along the line.
 */
export type Arrangement = "blocks" | "blended" | "fade" | "spiral" | "newer";

/**
 * A job that is over, or nearly.
 */
export type AskActual = { 
/**
 * Its id.
 */
id: string, 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money.
 */
private: Private, 
/**
 * Settled jobs.
 */
history: Array<Settled>, 
/**
 * Now, ms.
 */
now_ms: number, };

/**
 * A job that is asked for, from five answers or as it was entered, and those near it.
 */
export type AskEnquiry = { 
/**
 * Five answers and the books; absent where `job` is given.
 */
quick?: QuickPrice, 
/**
 * The job; absent where `quick` is given.
 */
job?: Job, 
/**
 * Its client and money; absent in a crew copy.
 */
private?: Private, 
/**
 * Jobs near it; beyond the sixtieth they are left out.
 */
others: Array<Job>, };

/**
 * Who takes a step.
 */
export type AssignStep = { 
/**
 * The job.
 */
id: string, 
/**
 * The step.
 */
step: string, 
/**
 * What the step says.
 */
what: string, 
/**
 * The person, by the id in the job's crew; empty is as planned.
 */
crew: string, };

/**
 * Who takes a step, as one device says it. The highest turn holds.
 */
export type Assigned = { 
/**
 * The step.
 */
step: string, 
/**
 * The device that wrote it.
 */
device: string, 
/**
 * Counts up over all devices' words on the step.
 */
turn: number, 
/**
 * The person, by the id in the job's crew; empty is as planned.
 */
crew: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, };

/**
 * Somebody is away.
 */
export type Away = { 
/**
 * Who: id of the crew.
 */
crew: string, 
/**
 * From then on: wall clock at the venue as `YYYY-MM-DDTHH:MM`; empty is from the beginning.
 */
from: string, 
/**
 * Until then; empty is to the end.
 */
to: string, 
/**
 * Why, in the user's words; may be empty.
 */
why: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken back.
 */
gone: boolean, };

/**
 * So many bags of one size.
 */
export type Bags = { 
/**
 * How many to the bag.
 */
size: number, 
/**
 * Bags.
 */
count: number, };

/**
 * A ball: one balloon, or one inside another.
 */
export type Ball = { 
/**
 * Colour seen, id.
 */
colour: string, 
/**
 * Colour inside, id; empty for a single balloon.
 */
inside: string, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, };

/**
 * So many balls of a colour and size.
 */
export type BallCount = { 
/**
 * Colour seen, id.
 */
colour: string, 
/**
 * Colour inside, id; empty for a single balloon.
 */
inside: string, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Balls.
 */
balls: number, };

/**
 * What a balloon is in its piece.
 */
export type BallKind = "line" | "filler" | "link" | "made";

/**
 * What a bill says. All money is whole cents; sums follow EN 16931: the net is the lines with the allowances and charges, tax is
 * reckoned once for each rate.
 */
export type Bill = { 
/**
 * What it is.
 */
kind: BillKind, 
/**
 * Its number; empty in a draft.
 */
number: string, 
/**
 * Day of issue, `YYYY-MM-DD`.
 */
day: string, 
/**
 * To be paid by, `YYYY-MM-DD`; of a quote, good until.
 */
due_day: string, 
/**
 * Day of the event, `YYYY-MM-DD`.
 */
event_day: string, 
/**
 * ISO 4217 code.
 */
currency: string, 
/**
 * Who issues it.
 */
seller: Own, 
/**
 * Who gets it.
 */
buyer: Buyer, 
/**
 * The job's name.
 */
title: string, 
/**
 * Lines, with a price each.
 */
lines: Array<BillLine>, 
/**
 * Allowances (negative) and charges on the whole.
 */
wholes: Array<BillLine>, 
/**
 * Tax by rate, ascending.
 */
taxes: Array<BillTax>, 
/**
 * Without tax, cents.
 */
net_cents: number, 
/**
 * Tax, cents.
 */
tax_cents: number, 
/**
 * With tax, cents: what is to be paid.
 */
gross_cents: number, 
/**
 * How it is paid, part by part; on quotes.
 */
parts: Array<BillPart>, 
/**
 * Invoice that it belongs to: what a credit note takes back, what was paid before.
 */
before: Array<BillBefore>, 
/**
 * Terms.
 */
terms: string, 
/**
 * Why there is no tax, where the rate is nought.
 */
tax_note: string, };

/**
 * An earlier invoice that a bill names.
 */
export type BillBefore = { 
/**
 * Its number.
 */
number: string, 
/**
 * Its day, `YYYY-MM-DD`.
 */
day: string, 
/**
 * With tax, cents.
 */
cents: number, };

/**
 * What a bill is.
 */
export type BillKind = "quote" | "deposit" | "invoice" | "credit" | "newer";

/**
 * A line of a bill.
 */
export type BillLine = { 
/**
 * What for.
 */
label: string, 
/**
 * How it was reckoned, in words; may be empty.
 */
detail: string, 
/**
 * Net, cents; negative takes off.
 */
cents: number, 
/**
 * Rate of tax, hundredths of a percent.
 */
tax_bp: number, };

/**
 * A bill that was made.
 */
export type BillMade = { 
/**
 * What it says.
 */
bill: Bill, 
/**
 * What it lacks.
 */
findings: Array<Finding>, 
/**
 * Credit: what can be given back line by line.
 */
lines: Array<CreditLine>, };

/**
 * Numbers that come next.
 */
export type BillNumbers = { 
/**
 * This device issues.
 */
issues: boolean, 
/**
 * Some device was named.
 */
named: boolean, 
/**
 * Next invoice, deposit invoice or credit note.
 */
invoice: string, 
/**
 * Next quote.
 */
quote: string, };

/**
 * A part of the payment.
 */
export type BillPart = { 
/**
 * What it is called.
 */
label: string, 
/**
 * When, `YYYY-MM-DD`; empty is on agreement.
 */
day: string, 
/**
 * With tax, cents.
 */
cents: number, };

/**
 * Tax at one rate.
 */
export type BillTax = { 
/**
 * Rate, hundredths of a percent.
 */
tax_bp: number, 
/**
 * Sum of lines, allowances and charges at this rate, cents.
 */
net_cents: number, 
/**
 * Tax on it, cents.
 */
tax_cents: number, };

/**
 * A box in the load space where nothing can stand. From its corner next to the bulkhead, on the left as one looks in from the
 * door, on the floor.
 */
export type Blocked = { 
/**
 * From the bulkhead towards the door, mm.
 */
x_mm: number, 
/**
 * From the left side wall, mm.
 */
y_mm: number, 
/**
 * Above the floor, mm.
 */
z_mm: number, 
/**
 * Along the vehicle, mm.
 */
length_mm: number, 
/**
 * Across, mm.
 */
width_mm: number, 
/**
 * Up, mm.
 */
height_mm: number, };

/**
 * What balls of one kind are blown to.
 */
export type Blown = { 
/**
 * Smallest diameter, tenths of a millimetre.
 */
from_dmm: number, 
/**
 * Largest diameter, tenths of a millimetre.
 */
to_dmm: number, };

/**
 * Where the balloons of a piece are blown.
 */
export type BlownAt = "studio" | "venue" | "newer";

/**
 * What comes of blowing a piece at one place, all else as it is.
 */
export type BlownWay = { 
/**
 * Where.
 */
at: BlownAt, 
/**
 * The edits that make it so; none for the job as it is.
 */
edits: Array<Edit>, 
/**
 * What the piece takes in the vehicle, mL.
 */
piece_ml: number, 
/**
 * What everything takes in the vehicle, mL.
 */
volume_ml: number, 
/**
 * Trips of all vehicles.
 */
trips: number, 
/**
 * Everything has its place in a vehicle and passes every door.
 */
fits: boolean, 
/**
 * Working time in the studio, packing and loading, all people, s.
 */
studio_s: number, 
/**
 * Working time at the venue until the hand-over, all people, s.
 */
venue_s: number, 
/**
 * The first work begins, ms.
 */
start_by_ms: number | null, 
/**
 * Leave the studio, ms.
 */
leave_by_ms: number | null, 
/**
 * You come so long after the load-in opens, s; negative is too late for the work.
 */
slack_s: number | null, 
/**
 * From the first balloon of the piece to the opening of the doors, s: how old it is when the guests come.
 */
age_s: number | null, 
/**
 * Inflators that run at the venue: each needs a socket and is heard.
 */
inflators: number, 
/**
 * Price with tax, cents; absent in a crew copy.
 */
price_cents: number | null, 
/**
 * Nothing of times and load stands against it.
 */
enough: boolean, 
/**
 * What stands against it, worst first.
 */
against: Array<string>, };

/**
 * One of the books; each is a document of its own.
 */
export type Book = "stockroom" | "people" | "kit" | "settings" | "newer";

/**
 * A book by its name.
 */
export type BookId = { 
/**
 * Which book.
 */
book: Book, };

/**
 * All books together, as the screens read them. Every book's document holds the whole set of top-level maps and
 * uses its own part.
 */
export type Books = { 
/**
 * Balloon colours.
 */
colours: { [key in string]: Colour }, 
/**
 * Balloons and sundries.
 */
items: { [key in string]: Item }, 
/**
 * What items cost, by the item's id.
 */
costs: { [key in string]: Cost }, 
/**
 * Sundries by the metre or piece.
 */
sundries: { [key in string]: Sundry }, 
/**
 * People.
 */
people: { [key in string]: Crew }, 
/**
 * Kit.
 */
kit: { [key in string]: Kit }, 
/**
 * Vehicles.
 */
vehicles: { [key in string]: Van }, 
/**
 * The decorator.
 */
own: Own, 
/**
 * How long work takes, for new jobs.
 */
rates: Rates, 
/**
 * Spares, freshness and transport, for new jobs.
 */
rules: Rules, 
/**
 * How the price is made, for new jobs.
 */
prices: Prices, };

/**
 * What an edit of a book changed.
 */
export type BooksEdited = { 
/**
 * What undo would take back in this book; absent if nothing.
 */
undo: string | null, 
/**
 * Paths that were written.
 */
changed: Array<Array<string>>, 
/**
 * The books as they now are.
 */
books: Books, };

/**
 * All books.
 */
export type BooksView = { 
/**
 * Their content.
 */
books: Books, 
/**
 * What could not be read in them.
 */
findings: Array<Finding>, };

/**
 * A job with its private part.
 */
export type Both = { 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money; absent in a crew copy.
 */
private: Private | null, };

/**
 * Helium bouquets alike.
 */
export type Bouquet = { 
/**
 * How many alike.
 */
count: number, 
/**
 * Latex rounds in one.
 */
rounds: number, 
/**
 * Nominal size of the rounds, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * Colours of the rounds, with their shares.
 */
palette: { [key in string]: Shade }, 
/**
 * Foils in one.
 */
foils: number, 
/**
 * Nominal size of the foils, in.
 */
foil_in: number, 
/**
 * Colour of the foils, id.
 */
foil_colour: string, 
/**
 * The highest balloon's middle above the weight, mm.
 */
top_mm: number, 
/**
 * Each further ribbon is so much shorter, mm.
 */
step_mm: number, 
/**
 * Weight under one, g; 0 is what the lift asks for.
 */
weight_g: number, 
/**
 * The latex is treated so that it floats for longer.
 */
treated: boolean, };

/**
 * Who gets a bill.
 */
export type Buyer = { 
/**
 * Person or firm.
 */
name: string, 
/**
 * Postal address.
 */
address: string, 
/**
 * E-mail.
 */
email: string, 
/**
 * ISO 3166-1 code.
 */
country: string, 
/**
 * Tax number.
 */
tax_number: string, };

/**
 * What a finished garland says about the hands that made it.
 */
export type Calibrated = { 
/**
 * Slack of the necks, thousandths of the radius: for `rates.neck_pm`.
 */
neck_pm: number, 
/**
 * How far balloons are pressed into each other, thousandths: for `rates.soft_pm`.
 */
soft_pm: number, 
/**
 * Length that a garland of these measures packs to, mm.
 */
length_mm: number, 
/**
 * Its mean width, mm.
 */
width_mm: number, 
/**
 * What does not fit, if the numbers are outside of what any hands make; then the nearest is answered.
 */
findings: Array<Finding>, };

/**
 * When one person is needed.
 */
export type Call = { 
/**
 * The person's id.
 */
crew: string, 
/**
 * Name.
 */
name: string, 
/**
 * Telephone.
 */
phone: string, 
/**
 * One stretch for each working day, in order.
 */
days: Array<Stretch>, 
/**
 * Working time, s.
 */
work_s: number, };

/**
 * What came in with a job file.
 */
export type CameIn = { 
/**
 * The job.
 */
id: string, 
/**
 * Its name.
 */
name: string, 
/**
 * The job was not here before.
 */
created: boolean, 
/**
 * Ticks that were new.
 */
ticks: number, 
/**
 * Notes that were new.
 */
notes: number, 
/**
 * Photos that were not here.
 */
photos: number, 
/**
 * What else has another value than before.
 */
changes: Array<Change>, 
/**
 * What the device that the file comes from does not have.
 */
home: Home, 
/**
 * The client's data were erased, here or where the file comes from.
 */
client_erased: boolean, 
/**
 * What this device and the other set apart.
 */
apart: Array<Apart>, 
/**
 * How far the clock of the other device is off, s; 0 if it goes as ours.
 */
clocks_apart_s: number, };

/**
 * Clusters that are tied alike: same number of pairs, colours and nominal sizes.
 */
export type Card = { 
/**
 * Short name: `A1`, `A2` for the first piece, `D1` for the second; no code of a step or a parcel is like it.
 */
code: string, 
/**
 * Balls in it: 4, 6 or 8.
 */
balls: number, 
/**
 * Its pairs, alike ones together.
 */
pairs: Array<CardPair>, 
/**
 * How many on the line.
 */
on_line: number, 
/**
 * How many kept back.
 */
extras: number, };

/**
 * Alike pairs of a card.
 */
export type CardPair = { 
/**
 * How many such pairs in the cluster.
 */
times: number, 
/**
 * The two balls. Of a card with a range of sizes these are the two of its first cluster.
 */
balls: Array<Ball>, 
/**
 * What each of the two is blown to over all clusters of the card, in the same order; two of one colour and size have one range.
 */
blown: Array<Blown>, };

/**
 * One thing that is late by itself.
 */
export type Cause = { 
/**
 * The task.
 */
task: string, 
/**
 * What it is.
 */
title: string, 
/**
 * LateWhy.
 */
why: LateWhy, 
/**
 * The time that it is about, ms: when it should have begun; may begin; will end; ended.
 */
at_ms: number, 
/**
 * By how much later than planned it ends, s.
 */
late_s: number, 
/**
 * So late that what comes after it is moved.
 */
moves: boolean, };

/**
 * A caution.
 */
export type Caution = { 
/**
 * Which one.
 */
code: string, 
/**
 * What to watch, one or two sentences.
 */
text: string, 
/**
 * Where it matters.
 */
phase: Phase, };

/**
 * Table centrepieces alike: a cluster at the foot, a stick, and a round on top.
 */
export type Centrepiece = { 
/**
 * How many alike.
 */
count: number, 
/**
 * Height over all, mm.
 */
height_mm: number, 
/**
 * Balloons in the cluster at the foot: 4, 6 or 8.
 */
foot: number, 
/**
 * Foot, nominal size, in.
 */
foot_in: number, 
/**
 * Foot, blown to, tenths of a millimetre.
 */
foot_dmm: number, 
/**
 * Top, nominal size, in; 0 is none.
 */
top_in: number, 
/**
 * Top, blown to, tenths of a millimetre.
 */
top_dmm: number, 
/**
 * Top, colour id.
 */
top_colour: string, 
/**
 * Colours of the foot with their shares.
 */
palette: { [key in string]: Shade }, };

/**
 * Chains of link balloons between two points at one height.
 */
export type Chain = { 
/**
 * How many chains alike.
 */
count: number, 
/**
 * Between the two points, mm.
 */
span_mm: number, 
/**
 * Sag in the middle, mm; 0 is a taut chain.
 */
sag_mm: number, 
/**
 * Nominal size of the link, in.
 */
size_in: number, 
/**
 * Blown to this diameter, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * From link to link along the chain, mm.
 */
pitch_mm: number, 
/**
 * What the links are.
 */
form: LinkForm, 
/**
 * The right end hangs so much higher than the left, mm.
 */
lift_mm: number, 
/**
 * Colours with their shares of the pairs, in turn along the chain.
 */
palette: { [key in string]: Shade }, };

/**
 * Chains, counted.
 */
export type ChainPlan = { 
/**
 * Chains alike.
 */
count: number, 
/**
 * One chain along its curve, mm.
 */
length_mm: number, 
/**
 * What the links are.
 */
form: LinkForm, 
/**
 * Links in one chain; even if they are latex.
 */
links: number, 
/**
 * Colours of one chain, link by link, ids.
 */
colours: Array<string>, 
/**
 * Strokes of the hand pump to a link; 0 for ring links, which are blown until they are firm.
 */
strokes: number, 
/**
 * Links by colour, all chains, in palette order.
 */
counts: Array<BallCount>, 
/**
 * Points of the curve for drawing, mm: x to the right, y up, the left end at 0.
 */
path: Array<[number, number]>, };

/**
 * How sure the finish is.
 */
export type Chance = { 
/**
 * Days on which everything stands by ready-by, of a thousand.
 */
ready_pm: number, 
/**
 * A tenth of the days are over before this, ms.
 */
early_ms: number, 
/**
 * Half of the days, ms.
 */
mid_ms: number, 
/**
 * Nine tenths of the days, ms.
 */
late_ms: number, 
/**
 * So sure one should be, thousandths.
 */
target_pm: number, 
/**
 * So much earlier everybody has to begin to be so sure, s; 0 if the plan is sure enough, absent if no earlier start is.
 */
earlier_s: number | null, 
/**
 * How sure that makes it; if no earlier start is sure enough, the most that one can reach. Thousandths.
 */
then_pm: number, 
/**
 * Where no earlier start is sure enough: so much earlier the load-in and everybody's start would have to be, s; absent if that is not
 * sure enough either, or no load-in is agreed.
 */
load_in_earlier_s: number | null, 
/**
 * Where no earlier start is sure enough: what makes it surer; absent if nothing was found, and in a sketch of a plan.
 */
surer: Surer | null, 
/**
 * Days on which the load-in holds the work up, thousandths.
 */
load_in_pm: number, 
/**
 * Every task up to the hand-over, in the order of the work.
 */
tasks: Array<TaskChance>, 
/**
 * Days gone through.
 */
samples: number, 
/**
 * Kinds of work in the plan, and how many of them have a spread of one's own.
 */
kinds: number, 
/**
 * Those with a spread of one's own.
 */
own: number, };

/**
 * A field or an item that differs.
 */
export type Change = { 
/**
 * What it is called.
 */
what: string, 
/**
 * How.
 */
kind: ChangeKind, 
/**
 * Where in the work it belongs.
 */
area: Area, 
/**
 * What it was; empty unless it was set.
 */
before: Shown, 
/**
 * What it is.
 */
after: Shown, };

/**
 * How a field or an item differs.
 */
export type ChangeKind = "set" | "added" | "removed" | "moved";

/**
 * One more line of the price.
 */
export type Charge = { 
/**
 * What for.
 */
label: string, 
/**
 * Cents; negative is an allowance.
 */
cents: number, 
/**
 * It has a rate of tax of its own.
 */
own_tax: boolean, 
/**
 * That rate, hundredths of a percent.
 */
tax_bp: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A piece that can be blown here or there.
 */
export type Choice = { 
/**
 * Its id.
 */
piece: string, 
/**
 * Its name.
 */
name: string, 
/**
 * Where it is blown as the job stands.
 */
now: BlownAt, 
/**
 * Both ways: first the studio, then the venue.
 */
ways: Array<BlownWay>, };

/**
 * Two jobs that want the same at the same time.
 */
export type Clash = { 
/**
 * What is wanted.
 */
kind: Wanted, 
/**
 * Its name.
 */
name: string, 
/**
 * The job that was given first: its place among those given.
 */
one: number, 
/**
 * The other.
 */
other: number, 
/**
 * From when both want it, ms.
 */
from_ms: number, 
/**
 * Until when, ms.
 */
to_ms: number, };

/**
 * Classic columns or tight arches alike.
 */
export type Classic = { 
/**
 * How many alike.
 */
count: number, 
/**
 * Column or arch.
 */
form: ClassicForm, 
/**
 * Column: at least so high without its topper, mm.
 */
height_mm: number, 
/**
 * Arch: between its feet, middle to middle, mm.
 */
span_mm: number, 
/**
 * Arch: height of its line in the middle, mm.
 */
rise_mm: number, 
/**
 * Balloons in a ring, 3 to 6.
 */
ring: number, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * How the colours lie.
 */
pattern: RingPattern, 
/**
 * Bands: rings to a band.
 */
band_rings: number, 
/**
 * Colours, in turn.
 */
palette: { [key in string]: Shade }, 
/**
 * Column: a large round on top, nominal size, in; 0 is none.
 */
topper_in: number, 
/**
 * Topper, blown to, tenths of a millimetre.
 */
topper_dmm: number, 
/**
 * Topper, colour id.
 */
topper_colour: string, 
/**
 * Ballast in each base, g.
 */
ballast_g: number, };

/**
 * What the rings are built up to.
 */
export type ClassicForm = "column" | "arch" | "newer";

/**
 * The client.
 */
export type Client = { 
/**
 * Person or firm.
 */
name: string, 
/**
 * Telephone.
 */
phone: string, 
/**
 * E-mail.
 */
email: string, 
/**
 * Postal address.
 */
address: string, 
/**
 * Private remarks.
 */
remarks: string, 
/**
 * Country, ISO 3166-1 code of two letters, for invoices.
 */
country: string, 
/**
 * Tax number, for invoices to firms.
 */
tax_number: string, };

/**
 * All that is held on a client.
 */
export type ClientRecord = { 
/**
 * As readable JSON, for handing out.
 */
json: string, };

/**
 * A cluster as it is tied.
 */
export type Cluster = { 
/**
 * Its card, as index into `cards`.
 */
card: number, 
/**
 * Its number in the recipe, counted from 0 at the first tip: the name by which a hand changes it. −1 if it is kept back.
 */
number: number, 
/**
 * Its balls, pair by pair.
 */
balls: Array<Ball>, };

/**
 * A balloon colour.
 */
export type Colour = { 
/**
 * A plain name of the decorator's own.
 */
name: string, 
/**
 * sRGB as `#rrggbb`.
 */
srgb: string, 
/**
 * Kept for the job's life.
 */
pattern: Pattern, 
/**
 * Where it was copied from: id in the stockroom.
 */
source: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A colour as it is used in this job.
 */
export type ColourUse = { 
/**
 * Its id.
 */
colour: string, 
/**
 * Its name.
 */
name: string, 
/**
 * sRGB as `#rrggbb`.
 */
srgb: string, 
/**
 * Its pattern.
 */
pattern: Pattern, 
/**
 * Balloons of it in all pieces, without spares.
 */
balloons: number, };

/**
 * A new job after an old one.
 */
export type CopyJob = { 
/**
 * The old one.
 */
id: string, 
/**
 * The new one's name.
 */
name: string, };

/**
 * What a bag of an item costs.
 */
export type Cost = { 
/**
 * How many to the bag that the cost is for.
 */
bag: number, 
/**
 * The bag, cents.
 */
cents: number, };

/**
 * A new job.
 */
export type CreateJob = { 
/**
 * Its name.
 */
name: string, };

/**
 * A job from five answers.
 */
export type CreateQuick = { 
/**
 * The answers.
 */
quick: Quick, 
/**
 * Its name.
 */
name: string, };

/**
 * A line that can be given back.
 */
export type CreditLine = { 
/**
 * Which line, and the most that makes sense: its net less its share of what was taken off the whole.
 */
most: CreditPart, 
/**
 * What it is for.
 */
label: string, };

/**
 * So much of a line is given back.
 */
export type CreditPart = { 
/**
 * Which line of the invoice, from nought.
 */
line: number, 
/**
 * Net, cents.
 */
cents: number, };

/**
 * One of the people on the job.
 */
export type Crew = { 
/**
 * Name.
 */
name: string, 
/**
 * Telephone for the call sheet.
 */
phone: string, 
/**
 * Ready to work from this minute of each day, counted from midnight at the venue.
 */
from_min: number, 
/**
 * To this minute of each day; at or before `from_min` it is on the next day.
 */
to_min: number, 
/**
 * Works on a ladder.
 */
ladder: boolean, 
/**
 * Drives the vehicle.
 */
drives: boolean, 
/**
 * Pace at blowing and tying, percent of the rates: 50 takes twice as long.
 */
blow_pct: number, 
/**
 * Pace at twisting clusters, stringing and stacking, percent.
 */
string_pct: number, 
/**
 * Pace at setting up and hanging in the room, percent.
 */
room_pct: number, 
/**
 * Pace at bagging, loading and carrying, percent.
 */
carry_pct: number, 
/**
 * Where this person was copied from: id in the book of people.
 */
source: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A person while the job is on.
 */
export type CrewThen = { 
/**
 * Id in the job.
 */
crew: string, 
/**
 * Name.
 */
name: string, 
/**
 * Where they are meanwhile.
 */
at: Array<Elsewhere>, 
/**
 * When this job needs them.
 */
needed: Array<Stretch>, };

/**
 * Something that is broken or was broken already.
 */
export type Damage = { 
/**
 * What: a thing, and what is wrong with it.
 */
what: string, 
/**
 * How many.
 */
count: number, 
/**
 * A photo of it: hash of its bytes; empty is none.
 */
photo: string, 
/**
 * The piece it belongs to; may be empty.
 */
piece: string, 
/**
 * Who saw it.
 */
who: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * Where an own step belongs.
 */
export type DayPhase = "order" | "prepare" | "pack" | "load" | "install" | "hand_over" | "strike" | "newer";

/**
 * How far a count goes.
 */
export type Depth = "instant" | "preview" | "final";

/**
 * A place where a job's copy differs from the books.
 */
export type Difference = { 
/**
 * What it is called.
 */
what: string, 
/**
 * Value in the job.
 */
in_job: Shown, 
/**
 * Value in the books.
 */
in_book: Shown, 
/**
 * Edits that take the books' value over.
 */
edits: Array<Edit>, };

/**
 * A door, a corner, a lift or a stair between the vehicle and the room. What belongs to the other kinds is kept but not used.
 */
export type Door = { 
/**
 * What it is called.
 */
name: string, 
/**
 * What it is.
 */
kind: PortalKind, 
/**
 * Clear width, mm: of the door, of the lift's door, of the stair, of the corridor one comes from.
 */
width_mm: number, 
/**
 * Clear height, mm: of the door, of the lift's door, of the corner; headroom of the stair, square to the flight.
 */
height_mm: number, 
/**
 * Corner: the width of the corridor one goes on in, mm.
 */
second_mm: number, 
/**
 * Stair: the depth of the landing on which it turns, mm; 0 if it does not turn.
 */
landing_mm: number, 
/**
 * Lift: the car's width, mm.
 */
car_width_mm: number, 
/**
 * Lift: the car's depth, mm.
 */
car_depth_mm: number, 
/**
 * Lift: the car's height, mm.
 */
car_height_mm: number, 
/**
 * Lift: the most that it may carry, g; 0 is not known.
 */
load_g: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A ball where it is, in tenths of a millimetre from the piece's left foot: x to the right, y up, z towards the viewer.
 */
export type DrawnBall = { 
/**
 * Its middle.
 */
at: [number, number, number], 
/**
 * Its radius.
 */
r: number, 
/**
 * Colour, id.
 */
colour: string, 
/**
 * Double-stuffed: the colour inside, id; empty for a single balloon.
 */
inside: string, };

/**
 * A rod with round ends, in tenths of a millimetre like [`DrawnBall`].
 */
export type DrawnRod = { 
/**
 * One end.
 */
from: [number, number, number], 
/**
 * The other end.
 */
to: [number, number, number], 
/**
 * Half its thickness.
 */
r: number, 
/**
 * Colour, id; empty for what is no balloon.
 */
colour: string, };

/**
 * The way from the studio to the venue.
 */
export type Drive = { 
/**
 * One way, min.
 */
minutes: number, 
/**
 * One way, tenths of a kilometre.
 */
distance_hm: number, };

/**
 * One change of a document. A path is a list of keys from the top: `["venue", "name"]`, `["pieces", "p1", "name"]`.
 */
export type Edit = { "op": "set", 
/**
 * Which document.
 */
part: Part, 
/**
 * The field.
 */
path: Array<string>, 
/**
 * Its new value.
 */
value: JsonValue, } | { "op": "add", 
/**
 * Which document.
 */
part: Part, 
/**
 * The list.
 */
path: Array<string>, 
/**
 * The new item's id: lower-case letters, digits, `-` and `_`; never used before in this list.
 */
id: string, 
/**
 * Before this item; none is at the end.
 */
before: string | null, 
/**
 * Fields of the item; those not named have their defaults.
 */
value: JsonValue, } | { "op": "move", 
/**
 * Which document.
 */
part: Part, 
/**
 * The list.
 */
path: Array<string>, 
/**
 * The item.
 */
id: string, 
/**
 * Before this item; none is to the end.
 */
before: string | null, } | { "op": "remove", 
/**
 * Which document.
 */
part: Part, 
/**
 * The list.
 */
path: Array<string>, 
/**
 * The item.
 */
id: string, } | { "op": "restore", 
/**
 * Which document.
 */
part: Part, 
/**
 * The list.
 */
path: Array<string>, 
/**
 * The item.
 */
id: string, };

/**
 * Edits of a book.
 */
export type EditBook = { 
/**
 * Which book.
 */
book: Book, 
/**
 * What the edit is called in "Undo …".
 */
label: string, 
/**
 * All are made, or none.
 */
edits: Array<Edit>, };

/**
 * Edits of a job.
 */
export type EditJob = { 
/**
 * The job.
 */
id: string, 
/**
 * What the edit is called in "Undo …".
 */
label: string, 
/**
 * All are made, or none.
 */
edits: Array<Edit>, };

/**
 * What an edit changed.
 */
export type Edited = { 
/**
 * Paths that were written; those of the private part begin with `private`.
 */
changed: Array<Array<string>>, 
/**
 * The job as it now is.
 */
view: JobView, };

/**
 * Work for another job.
 */
export type Elsewhere = { 
/**
 * The job's place among those given, from 1.
 */
other: number, 
/**
 * From, ms.
 */
from_ms: number, 
/**
 * To, ms.
 */
to_ms: number, };

/**
 * What is said to an enquiry.
 */
export type Enquiry = { 
/**
 * The answer.
 */
answer: Answer, 
/**
 * What stands against it as it is: what is wrong with its times, worst first.
 */
against: Array<string>, 
/**
 * What it would take from other jobs as it is; `one` is this job, 0, and `other` a job among those given, from 1.
 */
taken: Array<Clash>, 
/**
 * What makes it possible, the cheapest first.
 */
ways: Array<TakeWay>, 
/**
 * Each person of the crew: where they are meanwhile, and when this job needs them in the way that stands first.
 */
people: Array<CrewThen>, 
/**
 * Rest that it takes from somebody in the way that stands first.
 */
rests: Array<ShortRest>, 
/**
 * The zone of its venue, for the instants.
 */
zone: string, 
/**
 * The first work begins, ms.
 */
start_by_ms: number | null, 
/**
 * Leave the studio, ms.
 */
leave_by_ms: number | null, 
/**
 * Working time of all people, s.
 */
work_s: number, 
/**
 * The chance to be ready, thousandths.
 */
ready_pm: number | null, 
/**
 * Price with tax, cents; absent in a crew copy, as the next two are.
 */
price_cents: number | null, 
/**
 * Below this, with tax, the job does not pay its goods, hours, way and fees, cents.
 */
floor_cents: number | null, 
/**
 * ISO 4217 code.
 */
currency: string | null, };

/**
 * A job as a file.
 */
export type ExportJob = { 
/**
 * The job.
 */
id: string, 
/**
 * Without client and money.
 */
crew_copy: boolean, };

/**
 * A refusal: what happened and what to do. Callers branch on the code alone.
 */
export type Fault = { 
/**
 * Stable, for programs.
 */
code: string, 
/**
 * What happened, for people.
 */
message: string, 
/**
 * What to do about it; may be empty.
 */
hint: string, };

/**
 * The tape: the numbers that matter. What cannot be said yet is absent.
 */
export type Figures = { 
/**
 * Balloons to blow for all pieces, double-stuffed ones counted twice, without spares.
 */
balloons: number, 
/**
 * Garland tip to tip, all pieces, mm.
 */
garland_mm: number, 
/**
 * The first work begins, ms.
 */
start_by_ms: number | null, 
/**
 * By how much it could begin later in any schedule of these tasks and people, with so many people at each task as here, s: 0 is
 * a proof that it cannot. Absent when that is not known.
 */
start_gap_s: number | null, 
/**
 * Leave the studio, ms.
 */
leave_by_ms: number | null, 
/**
 * From the agreed load-in to the start of the carrying in, s; negative if the load-in comes too late.
 */
slack_s: number | null, 
/**
 * Everything that is carried, squeezed, mL.
 */
volume_ml: number, 
/**
 * Trips of all vehicles: those of the load as it stands, or by the volume bound where it has none.
 */
trips: number, 
/**
 * To pay, with tax, cents; absent in a crew copy.
 */
price_cents: number | null, 
/**
 * ISO 4217 code; absent in a crew copy.
 */
currency: string | null, 
/**
 * Working time of all people, s.
 */
work_s: number, 
/**
 * People on the job.
 */
people: number, };

/**
 * A file that was made.
 */
export type FileInfo = { 
/**
 * A name for it, safe on every system.
 */
name: string, 
/**
 * Its kind.
 */
mime: string, };

/**
 * Something that a person should know or do.
 */
export type Finding = { 
/**
 * Says which rule found it; screens and tests branch on this only.
 */
code: string, 
/**
 * How much it matters.
 */
severity: Severity, 
/**
 * What is wrong: one sentence.
 */
message: string, 
/**
 * What to do: one sentence.
 */
action: string, 
/**
 * Where it is solved.
 */
room: Room, 
/**
 * The field it is about: a path into the job, or into the private part if it begins with `private`.
 */
path: Array<string>, 
/**
 * Ready-made cures.
 */
fixes: Array<Fix>, };

/**
 * Today's date where the user is, so that the demo job lies ahead.
 */
export type FirstStart = { 
/**
 * `YYYY-MM-DD`.
 */
today: string, };

/**
 * What the first start made.
 */
export type FirstStarted = { 
/**
 * The demo job, if one was made.
 */
demo: string | null, };

/**
 * A cure: a label for its button, and the edits that it makes.
 */
export type Fix = { 
/**
 * A verb and what.
 */
label: string, 
/**
 * What it changes.
 */
edits: Array<Edit>, };

/**
 * Helium balloons loose under the ceiling.
 */
export type Floaters = { 
/**
 * How many.
 */
count: number, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * Colours with their shares.
 */
palette: { [key in string]: Shade }, 
/**
 * Ribbon hanging from each, mm; 0 is none.
 */
ribbon_mm: number, 
/**
 * They cover so much of the ceiling: width, mm.
 */
width_mm: number, 
/**
 * Depth, mm.
 */
depth_mm: number, 
/**
 * The latex is treated so that it floats for longer.
 */
treated: boolean, };

/**
 * So many foils of one kind.
 */
export type FoilCount = { 
/**
 * The character, or empty for a plain foil.
 */
text: string, 
/**
 * Colour, id.
 */
colour: string, 
/**
 * Height or nominal size, mm.
 */
height_mm: number, 
/**
 * How many.
 */
count: number, };

/**
 * How numbers and letters are put up.
 */
export type FoilStand = "standing" | "hanging" | "in_garland" | "helium" | "newer";

/**
 * Numbers and letters of foil.
 */
export type Foils = { 
/**
 * What they spell.
 */
text: string, 
/**
 * Height of a character, mm.
 */
height_mm: number, 
/**
 * Colour, id.
 */
colour: string, 
/**
 * How they are put up.
 */
stand: FoilStand, 
/**
 * In a garland: where their middle lies along it, mm from its first tip.
 */
along_mm: number, 
/**
 * Gap between characters, mm.
 */
gap_mm: number, };

/**
 * Free-standing frames.
 */
export type Frame = { 
/**
 * How many alike.
 */
count: number, 
/**
 * What it is.
 */
form: FrameForm, 
/**
 * Standing, mm.
 */
width_mm: number, 
/**
 * Standing, mm.
 */
height_mm: number, 
/**
 * Depth of its base, mm.
 */
base_mm: number, 
/**
 * Longest part as packed, mm.
 */
packed_length_mm: number, 
/**
 * Width of the packed parts, mm.
 */
packed_width_mm: number, 
/**
 * Height of the packed parts, mm.
 */
packed_height_mm: number, 
/**
 * Its longest part comes apart into two halves for carrying.
 */
halves: boolean, 
/**
 * It must travel upright: on its packed height, not laid on a side.
 */
upright: boolean, 
/**
 * Mass of one without ballast, g.
 */
mass_g: number, 
/**
 * Ballast for each, g.
 */
ballast_g: number, 
/**
 * Hired in.
 */
hired: boolean, };

/**
 * What a frame is.
 */
export type FrameForm = "gate" | "arch" | "hoop" | "backdrop" | "rail" | "mesh" | "newer";

/**
 * Frames, as the plan uses them.
 */
export type FramePlan = { 
/**
 * Frames alike.
 */
count: number, 
/**
 * Standing, mm.
 */
width_mm: number, 
/**
 * Standing, mm.
 */
height_mm: number, 
/**
 * Ballast of all, g.
 */
ballast_g: number, };

/**
 * Clusters along a line.
 */
export type Garland = { 
/**
 * Its path.
 */
shape: Shape, 
/**
 * Straight: tip to tip, mm.
 */
length_mm: number, 
/**
 * Arch and swag: between the two ends. Half arch: from its foot to under its top end. mm.
 */
span_mm: number, 
/**
 * Arch: height in the middle. Half arch: height of its top end. Swag: sag in the middle. mm.
 */
rise_mm: number, 
/**
 * Half arch: its foot is on the right, and it reaches over to the left.
 */
mirrored: boolean, 
/**
 * Sizes with their shares of the balloons.
 */
mix: { [key in string]: Size }, 
/**
 * Share of the clusters that are quads, percent.
 */
quads_pct: number, 
/**
 * Share of sixes, percent.
 */
sixes_pct: number, 
/**
 * Share of eights, percent.
 */
eights_pct: number, 
/**
 * Colours with their shares of the balloons.
 */
palette: { [key in string]: Shade }, 
/**
 * How the colours lie.
 */
arrangement: Arrangement, 
/**
 * What to do with odd ones.
 */
odd: Odd, 
/**
 * Clusters kept back to widen the garland on site, percent of those on the line.
 */
extras_pct: number, 
/**
 * Stair: the level landing at the top, mm.
 */
landing_mm: number, 
/**
 * Drawn: its points in order.
 */
points: { [key in string]: PathPoint }, 
/**
 * Spiral: the colours come round once in this length, mm.
 */
turn_mm: number, 
/**
 * Which of the many ways in which the balloons may fall; another number is another garland.
 */
seed: number, 
/**
 * Fillers: how much of the line and of what carries it may show, percent; 100 is no fillers.
 */
show_pct: number, 
/**
 * Fillers: nominal size, in.
 */
filler_in: number, 
/**
 * Fillers: blown to, tenths of a millimetre.
 */
filler_dmm: number, 
/**
 * Clusters changed by hand, by their number along the line, counted from 0 at the first tip.
 */
hand: { [key in string]: Hand }, };

/**
 * A garland, counted.
 */
export type GarlandPlan = { 
/**
 * Length of the path asked for, tip to tip, mm.
 */
path_mm: number, 
/**
 * Length that the clusters on the line make, tip to tip, mm.
 */
length_mm: number, 
/**
 * From the first tie to the last, mm.
 */
tie_span_mm: number, 
/**
 * Mean width over all, mm.
 */
width_mm: number, 
/**
 * Balls: a double-stuffed ball is one.
 */
balls: number, 
/**
 * Pairs.
 */
pairs: number, 
/**
 * Quads, the kept back ones included.
 */
quads: number, 
/**
 * Sixes, the kept back ones included.
 */
sixes: number, 
/**
 * Eights, the kept back ones included.
 */
eights: number, 
/**
 * Clusters on the line.
 */
on_line: number, 
/**
 * Clusters kept back.
 */
extras: number, 
/**
 * Balls by colour and size, in palette order, then by size.
 */
counts: Array<BallCount>, 
/**
 * Clusters that are alike, by card.
 */
cards: Array<Card>, 
/**
 * The line, first tie to last: the card of each cluster, as index into `cards`.
 */
line: Array<number>, 
/**
 * The lengths it is carried in: how many clusters of the line each has.
 */
lengths: Array<LengthPart>, 
/**
 * Points of the path for drawing, mm: x to the right, y up, the first tip first.
 */
path: Array<[number, number]>, 
/**
 * Where each cluster of the line is tied, mm along the path from the first tip.
 */
ties_mm: Array<number>, 
/**
 * Diameters of the balls of each cluster of the line, with their colours, for drawing.
 */
clusters: Array<Cluster>, 
/**
 * The clusters kept back.
 */
kept_back: Array<Cluster>, 
/**
 * Where the balls of the line are, cluster by cluster in the order of `clusters`.
 */
packed: Array<PackedBall>, 
/**
 * Balloons on the line over several ways in which they may fall.
 */
range: Range, 
/**
 * Fillers by colour.
 */
fillers: Array<BallCount>, 
/**
 * Where the fillers go.
 */
fillers_at: Array<PackedFiller>, 
/**
 * Share of the line and of what carries it that shows without fillers, per mille.
 */
shows_before_pm: number, 
/**
 * With them, per mille.
 */
shows_after_pm: number, };

/**
 * How far a task has come.
 */
export type Going = "to_come" | "begun" | "done";

/**
 * Goods of one item.
 */
export type GoodsActual = { 
/**
 * The item's id.
 */
item: string, 
/**
 * What it is called.
 */
name: string, 
/**
 * Unit; empty for single things.
 */
unit: string, 
/**
 * Planned: in the pieces and as spares.
 */
planned: number, 
/**
 * Used, as counted; absent while it was not.
 */
used: number | null, 
/**
 * Cost of what was used, or planned; absent if no cost is known.
 */
cents: number | null, };

/**
 * So many groups tied alike.
 */
export type Group = { 
/**
 * What it is called: ring, quad, accent.
 */
name: string, 
/**
 * Its balls in order.
 */
balls: Array<Ball>, 
/**
 * How many.
 */
count: number, };

/**
 * What a hand changed in one cluster of the line. It holds for the cluster of this number whatever the recipe becomes.
 */
export type Hand = { 
/**
 * All its pairs in this colour of the palette (its id there); empty is as it falls.
 */
shade: string, 
/**
 * Its balls are kept as they are in `balls` when the recipe changes.
 */
locked: boolean, 
/**
 * The balls of a locked or replaced cluster, pair by pair.
 */
balls: Array<HandBall>, 
/**
 * Left out of the line.
 */
left_out: boolean, 
/**
 * Moved by so many places along the line.
 */
moved: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken back.
 */
gone: boolean, };

/**
 * A ball of a cluster that was fixed by hand.
 */
export type HandBall = { 
/**
 * Its id in the palette.
 */
shade: string, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, };

/**
 * What a job file lacks.
 */
export type Home = { 
/**
 * Ticks.
 */
ticks: number, 
/**
 * Notes.
 */
notes: number, 
/**
 * Photos.
 */
photos: number, 
/**
 * Fields with another value.
 */
changes: number, };

/**
 * Where the hours of a phase come from.
 */
export type HoursFrom = "planned" | "timed" | "typed";

/**
 * What a job file would bring. Nothing is kept.
 */
export type Incoming = { 
/**
 * What would come in.
 */
came: CameIn, 
/**
 * It would change the plan of a job that is here: the user is asked first.
 */
asks: boolean, 
/**
 * The job as it is; absent if it is not here.
 */
before: Both | null, 
/**
 * The job as it would be.
 */
after: Both, };

/**
 * A part of the payment before the last one.
 */
export type Instalment = { 
/**
 * What it is called: `Deposit`, `Second part`.
 */
label: string, 
/**
 * Of the whole, percent.
 */
pct: number, 
/**
 * Due on this day, `YYYY-MM-DD`; empty is on agreement.
 */
day: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A bill to issue.
 */
export type IssueBill = { 
/**
 * The job.
 */
id: string, 
/**
 * What it says; its number is given here.
 */
bill: Bill, 
/**
 * Deposit: which part of the payment, by its id; empty is the deposit of the rates.
 */
instalment: string, 
/**
 * Credit: the bill that it takes back, by its id.
 */
of: string, 
/**
 * A draft that it was made from, by its id; empty if there is none.
 */
draft: string, };

/**
 * A bill that was issued here.
 */
export type IssuedBill = { 
/**
 * Its job.
 */
job: string, 
/**
 * Its id there.
 */
id: string, 
/**
 * Issued at, ms.
 */
at_ms: number, 
/**
 * What it says.
 */
bill: Bill, };

/**
 * Something that is bought.
 */
export type Item = { 
/**
 * What it is called, where colour and size do not say it.
 */
name: string, 
/**
 * What it is.
 */
kind: ItemKind, 
/**
 * The colour's id; empty for what has none.
 */
colour: string, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Bags it comes in: how many to the bag, any order.
 */
bags: Array<number>, 
/**
 * On the shelf, single balloons or units.
 */
on_hand: number, 
/**
 * The unit it is counted in: empty for single things, or `m`, or `L`.
 */
unit: string, 
/**
 * Where it is bought.
 */
supplier: string, 
/**
 * Where it was copied from: id in the stockroom.
 */
source: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * What an item is.
 */
export type ItemKind = "round" | "link" | "tie" | "foil" | "sundry" | "helium" | "newer";

/**
 * One booking, with its own copy of everything that its plan uses. Client and money are in [`crate::Private`].
 */
export type Job = { 
/**
 * Newest format that wrote to the document.
 */
format: number, 
/**
 * What the decorator calls it.
 */
name: string, 
/**
 * Wedding, birthday, opening and so on, in the user's words.
 */
occasion: string, 
/**
 * How far it has come.
 */
stage: Stage, 
/**
 * Put away by the user; it can be brought back.
 */
gone: boolean, 
/**
 * Where it happens.
 */
venue: Venue, 
/**
 * When it happens, as agreed: wall clock at the venue.
 */
times: Times, 
/**
 * The way from the studio.
 */
drive: Drive, 
/**
 * What it is carried in.
 */
vehicle: Vehicle, 
/**
 * More vehicles that go along, each with a driver of its own.
 */
vans: { [key in string]: Van }, 
/**
 * Every door, corner, lift and stair between the vehicle and the room, in the order of the way in.
 */
doors: { [key in string]: Door }, 
/**
 * The people on this job.
 */
crew: { [key in string]: Crew }, 
/**
 * Inflators, pumps, ladders, cases.
 */
kit: { [key in string]: Kit }, 
/**
 * Balloon colours, in the order in which their patterns were given.
 */
colours: { [key in string]: Colour }, 
/**
 * Balloons and sundries that this job may use, with what is on the shelf.
 */
items: { [key in string]: Item }, 
/**
 * Sundries by the metre or by the piece.
 */
sundries: { [key in string]: Sundry }, 
/**
 * What is built.
 */
pieces: { [key in string]: Piece }, 
/**
 * How long work takes.
 */
rates: Rates, 
/**
 * Spares, freshness, transport.
 */
rules: Rules, 
/**
 * Notes, to the job or to a step.
 */
notes: { [key in string]: Note }, 
/**
 * Ticks, by step and device: `STEP~DEVICE`.
 */
ticks: { [key in string]: Tick }, 
/**
 * Who takes which step, by step and device: `STEP~DEVICE`.
 */
assigned: { [key in string]: Assigned }, 
/**
 * The order in which each device likes its steps: `STEP~DEVICE`.
 */
places: { [key in string]: StepPlace }, 
/**
 * Steps that the user wrote.
 */
own_steps: { [key in string]: OwnStep }, 
/**
 * Photos of the work.
 */
photos: { [key in string]: SitePhoto }, 
/**
 * What is broken.
 */
damage: { [key in string]: Damage }, 
/**
 * What became of the balloons.
 */
waste: Waste, 
/**
 * Tasks that are held at a time.
 */
pins: { [key in string]: Pin }, 
/**
 * How many people do a task, where a hand has set it.
 */
teams: { [key in string]: Team }, 
/**
 * Hours in which people cannot work.
 */
away: { [key in string]: Away }, 
/**
 * How far times have gone apart on earlier jobs, by rate.
 */
spreads: { [key in string]: Spread }, 
/**
 * Agreed moments with their figures.
 */
kept: { [key in string]: Moment }, };

/**
 * A job by its id.
 */
export type JobId = { 
/**
 * The job.
 */
id: string, };

/**
 * A job on its day.
 */
export type JobNow = { 
/**
 * The job.
 */
job: Job, 
/**
 * The time, ms since 1970 UTC, by the clock of the device.
 */
now_ms: number, 
/**
 * How closely its garlands are counted; to the end if absent.
 */
depth?: Depth, };

/**
 * A job in the list.
 */
export type JobRow = { 
/**
 * Its id.
 */
id: string, 
/**
 * Its name.
 */
name: string, 
/**
 * Occasion.
 */
occasion: string, 
/**
 * How far it has come.
 */
stage: Stage, 
/**
 * The venue's name.
 */
venue: string, 
/**
 * Zone of its times.
 */
zone: string, 
/**
 * Agreed ready-by, wall clock; empty while not agreed.
 */
ready_by: string, 
/**
 * The same as an instant, for sorting, ms; absent while not agreed or not readable.
 */
ready_by_ms: number | null, 
/**
 * Pieces in it.
 */
pieces: number, 
/**
 * Steps ticked.
 */
ticked: number, 
/**
 * Put away.
 */
gone: boolean, 
/**
 * Fields that devices set apart and nobody has settled.
 */
apart: number, 
/**
 * Last change on this device, ms.
 */
changed_ms: number, };

/**
 * A job on its day, and who could be asked to come.
 */
export type JobStill = { 
/**
 * The job.
 */
job: Job, 
/**
 * The time, ms since 1970 UTC, by the clock of the device.
 */
now_ms: number, 
/**
 * How closely its garlands are counted; to the end if absent.
 */
depth?: Depth, 
/**
 * People who are not on it.
 */
people: Array<Crew>, };

/**
 * One job, whole.
 */
export type JobView = { 
/**
 * Its id.
 */
id: string, 
/**
 * Counts up with every change on this device.
 */
revision: number, 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money; absent in a crew copy.
 */
private: Private | null, 
/**
 * Hand-overs signed on the screen; on a device of the crew those that were signed there.
 */
signatures: { [key in string]: Signature }, 
/**
 * What could not be read in it.
 */
findings: Array<Finding>, 
/**
 * What devices set apart in it and nobody has settled.
 */
apart: Array<Apart>, 
/**
 * What undo would take back; absent if nothing.
 */
undo: string | null, 
/**
 * What redo would do again; absent if nothing.
 */
redo: string | null, };

/**
 * Jobs that are looked at together; beyond the sixtieth they are left out.
 */
export type JobsTogether = { 
/**
 * The jobs.
 */
jobs: Array<Job>, };

export type JsonValue = number | string | boolean | Array<JsonValue> | { [key in string]: JsonValue } | null;

/**
 * A bill as a job keeps it. While it has no number it is a draft; with one it is kept for ever as it is.
 */
export type KeptBill = { 
/**
 * What it is.
 */
kind: BillKind, 
/**
 * Its number; empty in a draft.
 */
number: string, 
/**
 * Deposit: which part of the payment, by its id; empty is the deposit of the rates.
 */
instalment: string, 
/**
 * Credit: the bill that it takes back, by its id.
 */
of: string, 
/**
 * Draft of a credit note: the lines that a part is given back of, a list of [`CreditPart`] as JSON; empty is the whole.
 */
part: string, 
/**
 * What it says, a [`Bill`] as JSON. One value, so that no merge can mix two. Of a draft: as it was written; a draft that gets its
 * number is made anew from the job.
 */
content: string, 
/**
 * Draft: who wrote it.
 */
by: string, 
/**
 * Issued or written at, ms.
 */
at_ms: number, 
/**
 * Paid on, `YYYY-MM-DD`; empty while it is not.
 */
paid_day: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed; an issued one never is.
 */
gone: boolean, };

/**
 * A thing of the kit, so many of it.
 */
export type Kit = { 
/**
 * What it is called.
 */
name: string, 
/**
 * What it is.
 */
kind: KitKind, 
/**
 * How many.
 */
count: number, 
/**
 * Longest side as packed, mm.
 */
length_mm: number, 
/**
 * Width as packed, mm.
 */
width_mm: number, 
/**
 * Height as packed, mm.
 */
height_mm: number, 
/**
 * Mass of one, g.
 */
mass_g: number, 
/**
 * Stays in the studio.
 */
stays: boolean, 
/**
 * Where it was copied from: id in the book of kit.
 */
source: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A thing of the kit.
 */
export type KitKind = "inflator" | "pump" | "ladder" | "case" | "ballast" | "newer";

/**
 * LateWhy something is late that waits for nothing late.
 */
export type LateWhy = "not_begun" | "slow" | "held" | "done_late";

/**
 * One length that a garland is carried in.
 */
export type LengthPart = { 
/**
 * First cluster of the line, counted from 0.
 */
first: number, 
/**
 * Clusters.
 */
clusters: number, 
/**
 * Length, mm.
 */
length_mm: number, 
/**
 * Width over all, mm.
 */
width_mm: number, 
/**
 * Free volume of its hull, mL.
 */
volume_ml: number, };

/**
 * What the links of a chain are.
 */
export type LinkForm = "latex" | "ring" | "newer";

/**
 * A job on its day.
 */
export type Live = { 
/**
 * The time that this was reckoned for, ms.
 */
now_ms: number, 
/**
 * Something is ticked.
 */
begun: boolean, 
/**
 * Work has begun, or should have: from now on the day is told from here, and what was planned of its start is past.
 */
running: boolean, 
/**
 * Everything up to the hand-over is done.
 */
over: boolean, 
/**
 * When the hand-over is over, if it goes on like this, ms.
 */
finish_ms: number | null, 
/**
 * The same as planned, ms.
 */
planned_ms: number | null, 
/**
 * When it must be over, ms.
 */
ready_ms: number | null, 
/**
 * How much later than agreed it will be, s; negative is to spare.
 */
late_s: number | null, 
/**
 * What is not done and has no time, such as work that nobody is left for: titles. No finish can be foretold then.
 */
without: Array<string>, 
/**
 * Every task that has a time, in the order of the plan.
 */
tasks: Array<LiveTask>, 
/**
 * What comes next for each person, in the order of the crew.
 */
next: Array<Next>, 
/**
 * What is late by itself, in the order of the plan: whatever else is late follows from it.
 */
causes: Array<Cause>, };

/**
 * A task on the day.
 */
export type LiveTask = { 
/**
 * Its id.
 */
task: string, 
/**
 * How far it has come.
 */
going: Going, 
/**
 * Done of it, thousandths.
 */
done_pm: number, 
/**
 * When it began or will, ms.
 */
start_ms: number, 
/**
 * When it ended or will, ms.
 */
end_ms: number, 
/**
 * Later than planned at its end, s; 0 if it is not.
 */
late_s: number, 
/**
 * So late that what comes after it is moved.
 */
moves: boolean, };

/**
 * What is carried, in what, and whether it goes in.
 */
export type Load = { 
/**
 * What is carried, hard ones first; the order of loading is in `stow`.
 */
parcels: Array<Parcel>, 
/**
 * Every parcel that goes into a vehicle at all has its place in one.
 */
stowed: boolean, 
/**
 * The trips, in order; empty where nothing is stowed.
 */
runs: Array<Run>, 
/**
 * The vehicles that go, in the order in which they are loaded: the job's own first.
 */
spaces: Array<Space>, 
/**
 * All parcels, bags squeezed, mL.
 */
volume_ml: number, 
/**
 * Load space of all vehicles together, mL.
 */
space_ml: number, 
/**
 * Trips of all vehicles: as stowed, else `least_trips`.
 */
trips: number, 
/**
 * The most often that one vehicle goes.
 */
rounds: number, 
/**
 * Fewer trips are impossible: by volume, mass and what excludes each other. A bound, not a promise.
 */
least_trips: number, 
/**
 * Every parcel passes every door and goes into a vehicle.
 */
passes: boolean, 
/**
 * Mass of the kit and ballast, g; balloons weigh next to nothing.
 */
mass_g: number, };

/**
 * Accents or singles.
 */
export type Loose = { 
/**
 * How many.
 */
count: number, 
/**
 * Accent or single.
 */
form: LooseForm, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * Colours with their shares.
 */
palette: { [key in string]: Shade }, };

/**
 * A small ready-made thing.
 */
export type LooseForm = "accent" | "single" | "newer";

/**
 * A piece that is counted from its measures alone: column, wall, bouquet, foils, floaters, centrepieces, accents.
 */
export type Made = { 
/**
 * Pieces alike.
 */
count: number, 
/**
 * One, over all: width, mm.
 */
width_mm: number, 
/**
 * Height, mm.
 */
height_mm: number, 
/**
 * Depth, mm.
 */
depth_mm: number, 
/**
 * Along the line of its rings: a column's height without what is on top, an arch from floor to floor, mm; 0 if it has none.
 */
along_mm: number, 
/**
 * Latex balls of all alike, by colour and size.
 */
balls: Array<BallCount>, 
/**
 * Foils of all alike.
 */
foils: Array<FoilCount>, 
/**
 * What is tied together: rings, quads, accents, all alike.
 */
groups: Array<Group>, 
/**
 * Helium for all, mL; 0 if none.
 */
helium_ml: number, 
/**
 * Weight or ballast under one, g.
 */
weight_g: number, 
/**
 * Ribbons of one, longest first, mm.
 */
ribbons_mm: Array<number>, 
/**
 * Figures worth saying, each in its unit: rings, rows, lift and so on.
 */
figures: Array<Worth>, 
/**
 * A wall: its crossings, row by row from the top and in each from the left as one looks at it: indices into `balls`. Empty
 * for what is no wall.
 */
grid: Array<Array<number>>, 
/**
 * One, as it looks from its own left foot, for drawing.
 */
balls_drawn: Array<DrawnBall>, 
/**
 * Its sticks, posts, ribbons and strokes of foil.
 */
rods_drawn: Array<DrawnRod>, };

/**
 * A bill to make.
 */
export type MakeBill = { 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money.
 */
private: Private, 
/**
 * Whose name stands on it.
 */
own: Own, 
/**
 * What it is.
 */
kind: BillKind, 
/**
 * Deposit: which part of the payment, by its id; empty is the deposit of the rates.
 */
instalment: string, 
/**
 * Credit: the bill that it takes back, by its id.
 */
of: string, 
/**
 * Credit: the lines that a part is given back of; none takes back the whole, or what is left of it.
 */
part: Array<CreditPart>, 
/**
 * Day of issue, `YYYY-MM-DD`.
 */
day: string, };

/**
 * A bill to print, or to give out for programs.
 */
export type MakeBillPaper = { 
/**
 * What it says.
 */
bill: Bill, 
/**
 * Size of the sheet.
 */
size: SheetSize, 
/**
 * Language tag, such as `en-GB`.
 */
language: string, 
/**
 * When it is made, ms since 1970 UTC.
 */
made_ms: number, 
/**
 * Its pages for a screen as well.
 */
show?: boolean, };

/**
 * A paper to make.
 */
export type MakePaper = { 
/**
 * Which one.
 */
kind: PaperKind, 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money; absent in a crew copy.
 */
private: Private | null, 
/**
 * Hand-overs that were signed, for the client summary.
 */
signatures: { [key in string]: Signature }, 
/**
 * Whose name stands on it.
 */
own: Own, 
/**
 * Size of the sheet.
 */
size: SheetSize, 
/**
 * Language tag, such as `en-GB`.
 */
language: string, 
/**
 * When it is made, ms since 1970 UTC.
 */
made_ms: number, 
/**
 * Inches and feet instead of metres.
 */
us_units: boolean, 
/**
 * `2:30 pm` instead of `14:30`.
 */
twelve_hours: boolean, 
/**
 * Its pages for a screen as well.
 */
show?: boolean, 
/**
 * Calendar: the job's id, by which its events are known again.
 */
id?: string, 
/**
 * Calendar: only this person's work, by the id in the crew.
 */
person?: string, };

/**
 * A picture to take.
 */
export type MakePicture = { 
/**
 * The job.
 */
job: Job, 
/**
 * How closely its garlands are counted; to the end if absent.
 */
depth?: Depth, 
/**
 * In pixels, 16 to 8192; no more than 24 million pixels in all.
 */
width: number, 
/**
 * In pixels.
 */
height: number, 
/**
 * The camera goes round to the right, degrees; 0 is straight ahead.
 */
yaw_deg: number, 
/**
 * The camera goes up, degrees.
 */
pitch_deg: number, 
/**
 * Only this piece, with the frame that it hangs on; the whole job if absent.
 */
piece?: string, 
/**
 * Nothing behind the pieces. Without it they stand in a room of paper.
 */
transparent: boolean, 
/**
 * To the scale of the photograph that goes in, straight ahead; then the angles do not count.
 */
photo?: PhotoScale, };

/**
 * What a number counts. The names of fields end with it: `span_mm`, `tax_bp`.
 */
export type Measure = "text" | "count" | "mm" | "dmm" | "inch" | "cents" | "percent" | "bp" | "permille" | "ms" | "s" | "min" | "h" | "days" | "of_day" | "instant" | "wall" | "g" | "ml" | "l_min" | "mm_s" | "s_m" | "dc" | "hm" | "deg" | "hundredths" | "px";

/**
 * A finished garland that was measured.
 */
export type MeasuredPiece = { 
/**
 * The job.
 */
job: Job, 
/**
 * The piece's id.
 */
piece: string, 
/**
 * Its length, tip to tip, mm.
 */
length_mm: number, 
/**
 * Its mean width, mm.
 */
width_mm: number, };

/**
 * A moment with its figures. Later plans are shown as differences from it.
 */
export type Moment = { 
/**
 * What happened.
 */
kind: MomentKind, 
/**
 * When, ms since 1970 UTC.
 */
at_ms: number, 
/**
 * Version of the program that made the figures.
 */
engine: string, 
/**
 * Figures of the plan by name, in the unit that the name says. Money is not among them.
 */
figures: { [key in string]: number }, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken back.
 */
gone: boolean, };

/**
 * What happened.
 */
export type MomentKind = "quoted" | "agreed" | "ordered" | "newer";

/**
 * What a piece hangs on.
 */
export type Mount = "frame" | "backdrop" | "wall_hooks" | "stair_rail" | "ceiling_points" | "grid" | "newer";

/**
 * What a person does next.
 */
export type Next = { 
/**
 * The person's id.
 */
crew: string, 
/**
 * Name.
 */
name: string, 
/**
 * The task; empty if there is nothing more to do.
 */
task: string, 
/**
 * What it is.
 */
title: string, 
/**
 * When it begins, ms; now or earlier if it is going on.
 */
start_ms: number, 
/**
 * When it will be over, ms.
 */
end_ms: number, };

/**
 * A note to the job or to one step.
 */
export type Note = { 
/**
 * The step it belongs to; empty for the job.
 */
step: string, 
/**
 * What it says.
 */
text: string, 
/**
 * Who wrote it.
 */
who: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device that wrote it.
 */
at_ms: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * What to do with the one balloon that an odd colour leaves over.
 */
export type Odd = "add_one" | "drop_one" | "mixed_pair" | "newer";

/**
 * A line of the order: one item, all pieces.
 */
export type OrderLine = { 
/**
 * The item's id; empty if the job has no such item.
 */
item: string, 
/**
 * What it is called in full.
 */
name: string, 
/**
 * What it is.
 */
kind: ItemKind, 
/**
 * Colour id; empty for what has none.
 */
colour: string, 
/**
 * Nominal size, in; 0 for what has none.
 */
size_in: number, 
/**
 * A foil's character, or what it is where it is no character; empty for the others.
 */
text: string, 
/**
 * Unit: empty for single things, or `m`.
 */
unit: string, 
/**
 * Where it is bought; empty if nobody said.
 */
supplier: string, 
/**
 * Used in the pieces.
 */
need: number, 
/**
 * Carried besides.
 */
spares: number, 
/**
 * On the shelf.
 */
on_hand: number, 
/**
 * To buy, single balloons or units.
 */
short: number, 
/**
 * Bags to buy, largest first.
 */
bags: Array<Bags>, 
/**
 * Left over when all is done as planned, spares included.
 */
left: number, 
/**
 * What the bags cost, cents; absent in a crew copy or if no cost is known.
 */
cost_cents: number | null, 
/**
 * The item comes home and is counted back.
 */
comes_home: boolean, 
/**
 * For which pieces how much: terms of `need`.
 */
terms: Array<Term>, };

/**
 * The decorator, as papers name them.
 */
export type Own = { 
/**
 * Trading name.
 */
name: string, 
/**
 * Postal address.
 */
address: string, 
/**
 * Telephone.
 */
phone: string, 
/**
 * E-mail.
 */
email: string, 
/**
 * Tax number, printed on quotes.
 */
tax_number: string, 
/**
 * IANA zone of the studio, for new jobs.
 */
zone: string, 
/**
 * Country, ISO 3166-1 code of two letters.
 */
country: string, 
/**
 * Bank and account, printed on invoices.
 */
bank: string, 
/**
 * The one device that issues numbers, by its id; empty while none was named.
 */
issuer: string, 
/**
 * Before the number of an invoice or credit note: `2027-`.
 */
number_prefix: string, 
/**
 * The next number is at least this.
 */
number_next: number, };

/**
 * A person's pace at one kind of work, as their own steps say.
 */
export type OwnPace = { 
/**
 * Where the person was copied from: id in the book; empty for one who is in no book.
 */
source: string, 
/**
 * Name, as the last of these jobs has it.
 */
name: string, 
/**
 * The field of the person.
 */
field: string, 
/**
 * The estimate, percent of the rates.
 */
value: number, 
/**
 * A quarter of the readings lie below this.
 */
low: number, 
/**
 * A quarter of the readings lie above this.
 */
high: number, 
/**
 * Jobs that it comes from.
 */
jobs: number, 
/**
 * Timed steps in them.
 */
steps: number, };

/**
 * A rate as this decorator's own hands have it.
 */
export type OwnRate = { 
/**
 * The field of the job's rates.
 */
field: string, 
/**
 * The estimate, in the unit of the field, at least 1.
 */
value: number, 
/**
 * A quarter of the jobs lie below this.
 */
low: number, 
/**
 * A quarter of the jobs lie above this.
 */
high: number, 
/**
 * The same two as percent of the estimate, for the spread of the times.
 */
low_pct: number, 
/**
 * The upper one.
 */
high_pct: number, 
/**
 * Jobs that it comes from.
 */
jobs: number, 
/**
 * Timed steps in them.
 */
steps: number, };

/**
 * A step that the user wrote.
 */
export type OwnStep = { 
/**
 * When in the job.
 */
phase: DayPhase, 
/**
 * What to do.
 */
text: string, 
/**
 * The piece it is about; empty for the whole job.
 */
piece: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * One line of a packing list.
 */
export type Packed = { 
/**
 * What.
 */
what: string, 
/**
 * How many, in `unit`.
 */
count: number, 
/**
 * Unit: empty for single things, or `m`.
 */
unit: string, 
/**
 * Must come home: the list has a second box.
 */
comes_home: boolean, };

/**
 * A ball of the line where it is, in tenths of a millimetre from the path's own left foot: x to the right, y up, z towards the viewer.
 */
export type PackedBall = { 
/**
 * Its middle.
 */
at: [number, number, number], 
/**
 * Its radius.
 */
r: number, };

/**
 * A filler where it goes.
 */
export type PackedFiller = { 
/**
 * Its middle, as in [`PackedBall`].
 */
at: [number, number, number], 
/**
 * Its radius.
 */
r: number, 
/**
 * Colour, id.
 */
colour: string, 
/**
 * The cluster of the line that it goes beside, counted from 0.
 */
cluster: number, };

/**
 * A job as a file in parts.
 */
export type PackedJob = { 
/**
 * A name for it, safe on every system.
 */
name: string, 
/**
 * Its kind.
 */
mime: string, 
/**
 * One after the other they are the file.
 */
parts: Array<PackedPart>, 
/**
 * Photos that the job names and that the file has no room for: they stay on this device.
 */
left_out: number, };

/**
 * A stretch of a job file.
 */
export type PackedPart = { 
/**
 * The file of the photo that it is; empty if it is the next of the bytes beside the answer.
 */
photo: string, 
/**
 * Its length, bytes.
 */
bytes: number, };

/**
 * What a box is.
 */
export type PanelKind = "backdrop" | "foot" | "step";

/**
 * Which paper.
 */
export type PaperKind = "client_summary" | "crew_pack" | "order_csv" | "labels" | "shopping_list" | "calendar";

/**
 * A paper that was made.
 */
export type PaperMade = { 
/**
 * A name for the file, safe on every system.
 */
name: string, 
/**
 * Its kind.
 */
mime: string, 
/**
 * Pages; 0 for a table.
 */
pages: number, 
/**
 * What could not be printed as it is.
 */
findings: Array<Finding>, 
/**
 * The same for a screen, where that was asked for.
 */
shown?: PaperShown, };

/**
 * One of the papers in a pack.
 */
export type PaperPart = { 
/**
 * Its name.
 */
title: string, 
/**
 * Its first page, from 0.
 */
page: number, };

/**
 * A paper for a screen.
 */
export type PaperShown = { 
/**
 * Each page as an SVG element: the marks of the PDF in the same places.
 */
pages: Array<string>, 
/**
 * The papers in it.
 */
parts: Array<PaperPart>, };

/**
 * A bag or a case.
 */
export type Parcel = { 
/**
 * Short code on its label: `B1`, `C2`.
 */
code: string, 
/**
 * What it is called.
 */
name: string, 
/**
 * A soft bag may be squeezed and carries nothing but other bags.
 */
soft: boolean, 
/**
 * Longest side, mm.
 */
length_mm: number, 
/**
 * mm.
 */
width_mm: number, 
/**
 * mm.
 */
height_mm: number, 
/**
 * Space it takes in the vehicle, mL.
 */
volume_ml: number, 
/**
 * What it weighs, g, where that is known.
 */
mass_g: number | null, 
/**
 * When it is needed at the venue: 0 first. What is needed first is unloaded first.
 */
needed: number, 
/**
 * The piece in it; empty for kit.
 */
piece: string, 
/**
 * The thing of the kit that it is: id; empty for what is packed for this job.
 */
kit: string, 
/**
 * What is in it, for the packing list.
 */
holds: Array<Packed>, 
/**
 * What it does not pass or go into, by name; empty if it passes all.
 */
stuck_at: string, 
/**
 * The same with what is missing and what would help.
 */
stuck: Stuck | null, 
/**
 * Its place in a vehicle; absent where it has none.
 */
stow: Stow | null, };

/**
 * Which document of a job an edit is for.
 */
export type Part = "job" | "private";

/**
 * A point of a drawn path.
 */
export type PathPoint = { 
/**
 * To the right, mm.
 */
x_mm: number, 
/**
 * Up, mm.
 */
y_mm: number, 
/**
 * Towards the viewer, mm.
 */
z_mm: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * How a colour is marked besides its colour, on screen and on paper. Given in this order.
 */
export type Pattern = "plain" | "hatched" | "dotted" | "barred" | "crossed" | "waved" | "ringed" | "checked" | "newer";

/**
 * What a sundry is counted by.
 */
export type Per = "metre" | "piece" | "cluster" | "job" | "newer";

/**
 * When in the job.
 */
export type Phase = "order" | "prepare" | "pack" | "load" | "install" | "hand_over" | "strike" | "return";

/**
 * Hours of a phase.
 */
export type PhaseActual = { 
/**
 * `prepare`, `travel`, `install`, `strike`.
 */
phase: string, 
/**
 * Planned, all people, s.
 */
planned_s: number, 
/**
 * Took, s: typed, else reckoned from what was timed, else as planned.
 */
took_s: number, 
/**
 * Where that comes from.
 */
from: HoursFrom, 
/**
 * Steps that were timed.
 */
timed: number, 
/**
 * Steps of the phase that have a time.
 */
steps: number, };

/**
 * A photo that is on disk.
 */
export type PhotoAdded = { 
/**
 * What it is known by: the SHA-256 of its bytes, 64 hexadecimal digits.
 */
hash: string, 
/**
 * Its width, px.
 */
width: number, 
/**
 * Its height, px.
 */
height: number, 
/**
 * Its length, bytes.
 */
bytes: number, };

/**
 * A photo, beside its bytes.
 */
export type PhotoInfo = { 
/**
 * `image/jpeg` or `image/png`.
 */
mime: string, };

/**
 * What a photo is for.
 */
export type PhotoKind = "plain" | "before" | "after" | "newer";

/**
 * A photo by its hash.
 */
export type PhotoOf = { 
/**
 * What it is known by.
 */
hash: string, };

/**
 * The scale of a photograph of the size of the picture.
 */
export type PhotoScale = { 
/**
 * Thousandths of a millimetre of the room to a pixel.
 */
um_per_px: number, 
/**
 * The pixel on which x = 0 of the room lies, from the left.
 */
x_px: number, 
/**
 * The pixel on which the floor lies, from the top.
 */
y_px: number, };

/**
 * A picture that was taken.
 */
export type PictureMade = { 
/**
 * A name for the file, safe on every system.
 */
name: string, 
/**
 * Its kind.
 */
mime: string, 
/**
 * In pixels.
 */
width: number, 
/**
 * In pixels.
 */
height: number, 
/**
 * Balloons in it.
 */
balls: number, };

/**
 * One thing to build.
 */
export type Piece = { 
/**
 * What it is called.
 */
name: string, 
/**
 * What it is. What belongs to the other kinds is kept but not used.
 */
kind: PieceKind, 
/**
 * Where in the room.
 */
spot: string, 
/**
 * What it hangs on.
 */
mount: Mount, 
/**
 * The frame it hangs on, if that frame is a piece of this job; empty otherwise.
 */
on: string, 
/**
 * Where its balloons are blown.
 */
blown_at: BlownAt, 
/**
 * If it is a garland.
 */
garland: Garland, 
/**
 * If it is a chain.
 */
chain: Chain, 
/**
 * If it is a frame.
 */
frame: Frame, 
/**
 * If it is a classic column or arch.
 */
classic: Classic, 
/**
 * If it is a wall.
 */
wall: Wall, 
/**
 * If it is a bouquet.
 */
bouquet: Bouquet, 
/**
 * If it is numbers and letters.
 */
foils: Foils, 
/**
 * If it is floaters.
 */
floaters: Floaters, 
/**
 * If it is a centrepiece.
 */
centrepiece: Centrepiece, 
/**
 * If it is accents or singles.
 */
loose: Loose, 
/**
 * Where its left foot stands in the scene: to the right, mm.
 */
x_mm: number, 
/**
 * Above the floor, mm.
 */
y_mm: number, 
/**
 * Towards the viewer, mm.
 */
z_mm: number, 
/**
 * Turned about the upright, degrees; seen from above against the clock.
 */
turn_deg: number, 
/**
 * Several alike: from one to the next, middle to middle, mm; 0 is beside each other with a little air.
 */
apart_mm: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A kind of piece.
 */
export type PieceKind = "garland" | "chain" | "frame" | "classic" | "wall" | "bouquet" | "foils" | "floaters" | "centrepiece" | "loose" | "newer";

/**
 * A piece of a job.
 */
export type PieceOfJob = { 
/**
 * The job.
 */
job: Job, 
/**
 * The piece's id.
 */
piece: string, };

/**
 * A piece, counted.
 */
export type PiecePlan = { 
/**
 * Its id.
 */
piece: string, 
/**
 * Its name.
 */
name: string, 
/**
 * What it is, as the job says it.
 */
kind: PieceKind, 
/**
 * Balloons, double-stuffed ones counted twice, without spares.
 */
balloons: number, 
/**
 * If it is a garland that can be counted.
 */
garland: GarlandPlan | null, 
/**
 * If it is a chain that can be counted.
 */
chain: ChainPlan | null, 
/**
 * If it is a frame.
 */
frame: FramePlan | null, 
/**
 * If it is of another kind that can be counted.
 */
made: Made | null, };

/**
 * A task that is held at a time. Its id in the list follows from the task ([`pin_id`]), so that two devices that pin one
 * task have pinned it once.
 */
export type Pin = { 
/**
 * The task, by its id in the plan; [`START`] is the first work of the job.
 */
task: string, 
/**
 * When it begins: wall clock at the venue as `YYYY-MM-DDTHH:MM`.
 */
at: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken off.
 */
gone: boolean, };

/**
 * Under a roof or under the sky.
 */
export type Place = "indoors" | "covered" | "open" | "newer";

/**
 * Where this device likes to see a step.
 */
export type PlaceStep = { 
/**
 * The job.
 */
id: string, 
/**
 * The step.
 */
step: string, 
/**
 * What the step says.
 */
what: string, 
/**
 * The step before it; empty is the plan's own place, unless it is the first.
 */
after: string, 
/**
 * Before all others of its phase.
 */
first: boolean, };

/**
 * The whole answer to one job.
 */
export type Plan = { 
/**
 * Version of the rules that made it.
 */
engine: string, 
/**
 * The few numbers that matter.
 */
figures: Figures, 
/**
 * Everything that a person should know or do, worst first.
 */
findings: Array<Finding>, 
/**
 * Colours used, with their names and patterns, in palette order.
 */
colours: Array<ColourUse>, 
/**
 * One plan for each piece that is not gone, in the order of the job.
 */
pieces: Array<PiecePlan>, 
/**
 * What to buy and what to take from the shelf.
 */
order: Array<OrderLine>, 
/**
 * How many to blow to which size.
 */
sizing: Array<SizingLine>, 
/**
 * Work with times and people, in order of start.
 */
tasks: Array<Task>, 
/**
 * When each person is needed.
 */
calls: Array<Call>, 
/**
 * How sure the finish is; absent while something has no time.
 */
chance: Chance | null, 
/**
 * What is carried in what, and whether it goes in.
 */
load: Load, 
/**
 * The price; absent in a crew copy.
 */
price: Price | null, 
/**
 * The checklist.
 */
steps: Array<Step>, 
/**
 * What is looked at with the client at the hand-over.
 */
walk: Array<Point>, 
/**
 * What is counted back after the strike.
 */
home: Array<Point>, 
/**
 * Cautions that hold for this job, each said once, where it matters first.
 */
cautions: Array<Caution>, 
/**
 * For each figure the terms it was summed from, by the figure's name.
 */
why: { [key in string]: Why }, };

/**
 * A job to plan.
 */
export type PlanJob = { 
/**
 * The job.
 */
job: Job, 
/**
 * Client and money; absent in a crew copy.
 */
private: Private | null, 
/**
 * How closely its garlands are counted; to the end if absent.
 */
depth?: Depth, };

/**
 * A line that is ticked beside the steps.
 */
export type Point = { 
/**
 * Its id among the ticks.
 */
id: string, 
/**
 * The piece it is about; empty for the venue or the kit.
 */
piece: string, 
/**
 * What it is about, in words: the piece's name, the venue, the thing.
 */
name: string, 
/**
 * What to look at; empty where the name says it.
 */
text: string, 
/**
 * How many there are; 1 for what is looked at.
 */
quantity: number, };

/**
 * What stands on the way between the vehicle and the room.
 */
export type PortalKind = "door" | "corner" | "lift" | "stair" | "newer";

/**
 * The price, step by step. Every line is whole cents.
 */
export type Price = { 
/**
 * ISO 4217 code.
 */
currency: string, 
/**
 * Lines of the net price.
 */
lines: Array<PriceLine>, 
/**
 * The labour line by phase of the job; its parts add up to it.
 */
phases: Array<PriceLine>, 
/**
 * Sum of the lines, cents.
 */
lines_cents: number, 
/**
 * Allowance, cents, not negative.
 */
discount_cents: number, 
/**
 * The allowance by rate of tax: nets, not positive.
 */
discounts: Array<PriceTax>, 
/**
 * Put on to reach the least price, cents.
 */
minimum_cents: number, 
/**
 * Put on so that what is to be paid is a pleasing figure, cents.
 */
rounding_cents: number, 
/**
 * Net, cents.
 */
net_cents: number, 
/**
 * Rate of all that has none of its own, hundredths of a percent.
 */
tax_bp: number, 
/**
 * Tax by rate, ascending.
 */
taxes: Array<PriceTax>, 
/**
 * Tax, cents.
 */
tax_cents: number, 
/**
 * To pay, cents.
 */
gross_cents: number, 
/**
 * Asked for on agreement, cents.
 */
deposit_cents: number, 
/**
 * What the goods cost the decorator, cents.
 */
goods_cost_cents: number, };

/**
 * What a line of the price is for.
 */
export type PriceKind = "goods" | "labour" | "model" | "frames" | "travel" | "fee" | "season" | "charge";

/**
 * A line of the price.
 */
export type PriceLine = { 
/**
 * What kind of line it is.
 */
kind: PriceKind, 
/**
 * What for.
 */
label: string, 
/**
 * How it was reckoned, in words: `14.5 h at € 32.00`.
 */
detail: string, 
/**
 * Cents.
 */
cents: number, 
/**
 * Rate of tax, hundredths of a percent.
 */
tax_bp: number, };

/**
 * How the price is made.
 */
export type PriceModel = "cost_plus" | "per_metre" | "package" | "newer";

/**
 * Tax at one rate.
 */
export type PriceTax = { 
/**
 * Rate, hundredths of a percent.
 */
tax_bp: number, 
/**
 * Net at this rate, cents.
 */
net_cents: number, 
/**
 * Tax on it, cents.
 */
tax_cents: number, };

/**
 * How the price is made. Rates invented for a start; every number is the user's.
 */
export type Prices = { 
/**
 * ISO 4217 code.
 */
currency: string, 
/**
 * Put on the cost of goods, percent.
 */
markup_pct: number, 
/**
 * An hour of one person, cents.
 */
labour_h_cents: number, 
/**
 * A kilometre driven, cents.
 */
travel_km_cents: number, 
/**
 * Each free-standing frame, cents.
 */
frame_cents: number, 
/**
 * The net price is never below this, cents.
 */
minimum_cents: number, 
/**
 * Taken off the net price, percent.
 */
discount_pct: number, 
/**
 * Tax, hundredths of a percent; 2000 is 20 %.
 */
tax_bp: number, 
/**
 * Asked for on agreement, percent of the gross price.
 */
deposit_pct: number, 
/**
 * The quote is good for so many days.
 */
valid_days: number, 
/**
 * Terms printed under the price.
 */
terms: string, 
/**
 * How the price is made.
 */
model: PriceModel, 
/**
 * Per metre: a metre of garland or chain, cents.
 */
metre_cents: number, 
/**
 * Per metre: a balloon of any other piece, cents.
 */
balloon_cents: number, 
/**
 * Package: what it is called.
 */
package: string, 
/**
 * Package: its price, cents.
 */
package_cents: number, 
/**
 * Each step of stairs on the way in, cents.
 */
stair_cents: number, 
/**
 * Parking at the venue, each trip, cents.
 */
parking_cents: number, 
/**
 * Taking down that begins late in the evening or at night, cents.
 */
late_cents: number, 
/**
 * Taking down is late from this minute of the day on, and until six in the morning.
 */
late_from_min: number, 
/**
 * Put on in the season, percent; negative takes off.
 */
season_pct: number, 
/**
 * First month of the season, 1 to 12.
 */
season_from: number, 
/**
 * Last month of the season, 1 to 12; before the first, the season runs over the new year.
 */
season_to: number, 
/**
 * Put on from Friday to Sunday, percent; negative takes off.
 */
weekend_pct: number, 
/**
 * What the client pays is brought up to a multiple of this, cents; 0 leaves it as it is.
 */
round_to_cents: number, 
/**
 * Why there is no tax, where the rate is nought; printed on invoices.
 */
tax_note: string, 
/**
 * Invoices are to be paid within so many days.
 */
pay_days: number, };

/**
 * Client and money of one job; a document of its own beside [`crate::Job`].
 */
export type Private = { 
/**
 * Newest format that wrote to the document.
 */
format: number, 
/**
 * Who asked for it.
 */
client: Client, 
/**
 * How the price is made.
 */
prices: Prices, 
/**
 * What items cost, by the item's id.
 */
costs: { [key in string]: Cost }, 
/**
 * Further charges and allowances: stairs, parking, late strike, a discount in money.
 */
charges: { [key in string]: Charge }, 
/**
 * How it is paid, part by part; without any: the deposit, then the rest.
 */
instalments: { [key in string]: Instalment }, 
/**
 * Drafts and issued quotes, invoices and credit notes.
 */
bills: { [key in string]: KeptBill }, 
/**
 * What was really used, by the item's id.
 */
used: { [key in string]: Used }, 
/**
 * What it really took, after the job.
 */
spent: Spent, 
/**
 * Hand-overs that were signed on the screen.
 */
signatures: { [key in string]: Signature }, };

/**
 * The five answers.
 */
export type Quick = { 
/**
 * What.
 */
what: QuickWhat, 
/**
 * How long, mm: garlands, walls, chains (each).
 */
length_mm: number, 
/**
 * How many: columns, bouquets, balloons, chains, tables.
 */
count: number, 
/**
 * How full.
 */
full: QuickFull, 
/**
 * How far, tenths of a kilometre, one way.
 */
distance_hm: number, 
/**
 * There are stairs.
 */
stairs: boolean, 
/**
 * When it must stand, `YYYY-MM-DDTHH:MM`; empty while nobody knows.
 */
ready_by: string, 
/**
 * We take it down.
 */
strike: boolean, };

/**
 * How full it is.
 */
export type QuickFull = "light" | "usual" | "full" | "newer";

/**
 * What a job from five answers would cost.
 */
export type QuickMade = { 
/**
 * The price.
 */
price: Price, 
/**
 * The price may be as low as this, cents: what is not known yet is left for later.
 */
from_cents: number, 
/**
 * Or as high as this, cents.
 */
to_cents: number, 
/**
 * Balloons.
 */
balloons: number, 
/**
 * Working time of all people, s.
 */
work_s: number, 
/**
 * People.
 */
people: number, 
/**
 * Work begins, ms; absent while there is no day.
 */
start_by_ms: number | null, 
/**
 * What must be solved.
 */
findings: Array<Finding>, };

/**
 * Five answers and the books.
 */
export type QuickPrice = { 
/**
 * The answers.
 */
quick: Quick, 
/**
 * The books.
 */
books: Books, };

/**
 * What is wanted.
 */
export type QuickWhat = "garland" | "arch_garland" | "half_arch" | "columns" | "wall" | "bouquets" | "ceiling" | "chains" | "tables" | "newer";

/**
 * A count over several seeds.
 */
export type Range = { 
/**
 * Mean, nearest whole number.
 */
mean: number, 
/**
 * Fewest.
 */
least: number, 
/**
 * Most.
 */
most: number, 
/**
 * Seeds counted.
 */
seeds: number, };

/**
 * How long work takes. Common practice, no source; every number is the user's.
 */
export type Rates = { 
/**
 * Two rounds blown on the inflator and tied as a pair, at least, s.
 */
pair_s: number, 
/**
 * Flow of an inflator, both nozzles together, L/min.
 */
flow_l_min: number, 
/**
 * A round of 24 in and up, each, s.
 */
round24_s: number, 
/**
 * A round of 36 in and up, each, s.
 */
round36_s: number, 
/**
 * A pair of small rounds by hand pump, s.
 */
small_pair_s: number, 
/**
 * More for a double-stuffed ball, s.
 */
double_s: number, 
/**
 * One more pair twisted into a cluster, s.
 */
join_s: number, 
/**
 * A cluster tied on to the line, s.
 */
string_s: number, 
/**
 * Two links by hand pump, tied as a pair, s.
 */
link_pair_s: number, 
/**
 * A link's tails tied on to the chain and trimmed, s.
 */
link_tie_s: number, 
/**
 * A stroke of the hand pump, mL.
 */
stroke_ml: number, 
/**
 * A metre of garland hung and shaped, by two, s.
 */
hang_s_m: number, 
/**
 * The same by one with a ladder, as percent of the time that two take.
 */
alone_pct: number, 
/**
 * A chain draped and tied at both ends, s.
 */
drape_s: number, 
/**
 * A cluster kept back put in on site, s.
 */
extra_s: number, 
/**
 * A free-standing frame set up with its ballast, s.
 */
frame_s: number, 
/**
 * A column, or a metre of a wall's panels, stood up with its ballast, s.
 */
stand_s: number, 
/**
 * The delivery checked against the order, s.
 */
check_s: number, 
/**
 * A bag filled, closed and labelled, s.
 */
bag_s: number, 
/**
 * A bag or case lifted in or out, s, without the walk.
 */
carry_s: number, 
/**
 * Walking, mm/s.
 */
walk_mm_s: number, 
/**
 * A step of stairs with a load, ms.
 */
stair_ms: number, 
/**
 * A ride of one with a load in a lift, there and back with its doors, s.
 */
lift_s: number, 
/**
 * Tidy, photographs and hand-over, s.
 */
finish_s: number, 
/**
 * Strike of a metre of garland, s.
 */
strike_s_m: number, 
/**
 * Strike, once a job, s.
 */
strike_s: number, 
/**
 * How long this decorator's necks are left: slack from knot to body, thousandths of the radius. Calibrated from a finished garland.
 */
neck_pm: number, 
/**
 * How hard this decorator presses: how far two balloons flatten, thousandths of their distance. Calibrated from a finished garland.
 */
soft_pm: number, 
/**
 * A foil filled and tied or its valve closed, s.
 */
foil_s: number, 
/**
 * A ring link of foil blown, its tabs cut, its nozzle stuck, s.
 */
ring_link_s: number, 
/**
 * A ring link slotted into the chain, s.
 */
ring_slot_s: number, 
/**
 * A balloon filled with helium and tied to its ribbon, s.
 */
helium_s: number, 
/**
 * An accent tied on to half a long tie, s.
 */
accent_s: number, 
/**
 * An accent placed on site, s.
 */
place_s: number, 
/**
 * A filler placed on site, s.
 */
filler_s: number, 
/**
 * A ring of a classic column or arch stacked, s.
 */
stack_s: number, 
/**
 * A crossing of a wall's grid filled, s.
 */
grid_s: number, };

/**
 * How colours lie in nested rings.
 */
export type RingPattern = "spiral" | "bands" | "newer";

/**
 * The room where a finding is solved.
 */
export type Room = "brief" | "design" | "make" | "times" | "load" | "site" | "papers" | "newer";

/**
 * A rule on rest.
 */
export type Rule = "break" | "daily" | "weekly";

/**
 * Spares, freshness and transport. Common practice, no source; every number is the user's.
 */
export type Rules = { 
/**
 * Spares of rounds up to 12 in, percent.
 */
spare_small_pct: number, 
/**
 * At least so many of each colour and size.
 */
spare_small_min: number, 
/**
 * Spares of larger rounds, percent.
 */
spare_big_pct: number, 
/**
 * At least so many of each colour and size.
 */
spare_big_min: number, 
/**
 * Made longer before the doors open than this: look at it, h.
 */
fresh_care_h: number, 
/**
 * Made longer before the doors open than this: no, h.
 */
fresh_stop_h: number, 
/**
 * The same for work that hangs outdoors, h.
 */
fresh_outdoors_h: number, 
/**
 * Helium that is lost in filling and stays in the cylinder, percent of what is filled.
 */
helium_loss_pct: number, 
/**
 * Latex with helium that is not treated floats so long, h.
 */
helium_h: number, 
/**
 * Treated latex with helium, h.
 */
helium_treated_h: number, 
/**
 * Foil with helium, h.
 */
helium_foil_h: number, 
/**
 * In the open before the doors open, h.
 */
open_air_h: number, 
/**
 * In the open under strong sun, h.
 */
open_sun_h: number, 
/**
 * Longest length that a garland is carried in, mm.
 */
length_mm: number, 
/**
 * Share of a garland's hull that is balloons, percent.
 */
fill_pct: number, 
/**
 * How far a bag may be squeezed, percent of its free volume.
 */
squeeze_pct: number, 
/**
 * Rest in each stretch of work, percent of the working time.
 */
rest_pct: number, 
/**
 * What each further piece of alike ones takes after every doubling of their number, percent of the time before: 100 learns nothing.
 */
learn_pct: number, };

/**
 * One trip of one vehicle.
 */
export type Run = { 
/**
 * Which, counted from 1.
 */
trip: number, 
/**
 * Its vehicle, as index into `spaces`.
 */
space: number, 
/**
 * What the vehicle is called.
 */
vehicle: string, 
/**
 * How many parcels it carries.
 */
parcels: number, 
/**
 * What they take of the load space as they lie, percent.
 */
volume_pct: number, 
/**
 * What they weigh, as far as it is known, g.
 */
mass_g: number, 
/**
 * Codes of the parcels in the order of unloading.
 */
unload: Array<string>, 
/**
 * Codes of the parcels that have to be set aside on the way out to reach what is needed before them.
 */
set_aside: Array<string>, };

/**
 * Everything to be seen, in one room.
 */
export type Scene = { 
/**
 * Balloons.
 */
balls: Array<SceneBall>, 
/**
 * Rods with round ends.
 */
tubes: Array<SceneTube>, 
/**
 * Flat boxes.
 */
panels: Array<ScenePanel>, 
/**
 * Least corner of all that is shown; 0 if there is nothing.
 */
low: [number, number, number], 
/**
 * Greatest corner.
 */
high: [number, number, number], 
/**
 * One cluster in so many is shown; 1 is all of them.
 */
stride: number, };

/**
 * A balloon.
 */
export type SceneBall = { 
/**
 * Its middle.
 */
at: [number, number, number], 
/**
 * Its radius.
 */
r: number, 
/**
 * Colour, id.
 */
colour: string, 
/**
 * Double-stuffed: the colour inside, id; empty for a single balloon.
 */
inside: string, 
/**
 * The piece, id.
 */
piece: string, 
/**
 * Its cluster along the line, from 0; -1 if it is in none.
 */
cluster: number, 
/**
 * What it is.
 */
kind: BallKind, };

/**
 * A box with upright sides.
 */
export type ScenePanel = { 
/**
 * Least corner before it is turned.
 */
low: [number, number, number], 
/**
 * Greatest corner before it is turned.
 */
high: [number, number, number], 
/**
 * Turned about the upright through its middle, degrees; seen from above against the clock.
 */
turn_deg: number, 
/**
 * What it is.
 */
what: PanelKind, 
/**
 * sRGB as `#rrggbb`.
 */
srgb: string, 
/**
 * The piece, id.
 */
piece: string, };

/**
 * A rod with round ends.
 */
export type SceneTube = { 
/**
 * Middle of one end.
 */
from: [number, number, number], 
/**
 * Middle of the other.
 */
to: [number, number, number], 
/**
 * Half its thickness.
 */
r: number, 
/**
 * What it is.
 */
what: TubeKind, 
/**
 * sRGB as `#rrggbb`.
 */
srgb: string, 
/**
 * The piece, id.
 */
piece: string, };

/**
 * A job that was settled.
 */
export type Settled = { 
/**
 * The job.
 */
id: string, 
/**
 * Its name.
 */
name: string, 
/**
 * ISO 4217 code of its money.
 */
currency: string, 
/**
 * Its figures.
 */
spent: Spent, };

/**
 * How much a finding matters, worst first.
 */
export type Severity = "stop" | "care" | "note" | "newer";

/**
 * One colour of the palette.
 */
export type Shade = { 
/**
 * The colour's id.
 */
colour: string, 
/**
 * Double-stuffed: the id of the colour inside; empty for a single balloon.
 */
inside: string, 
/**
 * Share of the balls, percent.
 */
share_pct: number, 
/**
 * Garland in blocks: length of its block, mm; 0 is by its share.
 */
length_mm: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * The path of a garland, tip to tip.
 */
export type Shape = "straight" | "arch" | "swag" | "stair" | "hoop" | "drawn" | "half_arch" | "newer";

/**
 * Size of a sheet.
 */
export type SheetSize = "a4" | "letter";

/**
 * What the shelf makes of a garland's recipe.
 */
export type ShelfLength = { 
/**
 * Tip to tip, mm; 0 if there is too little for two pairs.
 */
length_mm: number, 
/**
 * Balls in it.
 */
balls: number, 
/**
 * Clusters on the line.
 */
on_line: number, 
/**
 * Clusters kept back.
 */
extras: number, 
/**
 * What runs out first: colour and size with the balloons of it on the shelf.
 */
short_of: BallCount | null, 
/**
 * Balloons left on the shelf of what the recipe uses.
 */
left: Array<BallCount>, };

/**
 * Work for two jobs that leaves somebody too little rest between them. Laws differ: those of the place hold.
 */
export type ShortRest = { 
/**
 * Whose.
 */
name: string, 
/**
 * The rule that it is beside.
 */
rule: Rule, 
/**
 * The job whose work comes first: its place among those given.
 */
one: number, 
/**
 * The job whose work follows too soon.
 */
other: number, 
/**
 * The work for the first ends, ms.
 */
from_ms: number, 
/**
 * The work for the other begins, ms.
 */
to_ms: number, };

/**
 * A value as a person is told it: a text, or a number with its measure. An empty text is nothing.
 */
export type Shown = { 
/**
 * What the number counts.
 */
measure: Measure, 
/**
 * The number; 0 for a text.
 */
n: number, 
/**
 * The text; empty for a number.
 */
text: string, };

/**
 * A hand-over that was signed on the screen.
 */
export type SignHandOver = { 
/**
 * The job.
 */
id: string, 
/**
 * Who signed.
 */
name: string, 
/**
 * What the client wanted to be written down.
 */
remarks: string, 
/**
 * The pen's way, `x y x y;x y`, in a box of 3000 by 1000.
 */
strokes: string, 
/**
 * Points of the walk-through that were ticked.
 */
ticked: number, 
/**
 * Points in all.
 */
of: number, 
/**
 * Who took it.
 */
taken_by: string, };

/**
 * A hand-over that was signed on the screen. It is a part of [`crate::Private`].
 */
export type Signature = { 
/**
 * Who signed, as printed under it.
 */
name: string, 
/**
 * What the client wanted to be written down.
 */
remarks: string, 
/**
 * The pen's way: see [`strokes`].
 */
strokes: string, 
/**
 * Points of the walk-through that were ticked when it was signed.
 */
ticked: number, 
/**
 * Points in all.
 */
of: number, 
/**
 * Who took it.
 */
taken_by: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * A photo taken on the job.
 */
export type SitePhoto = { 
/**
 * Hash of its bytes.
 */
hash: string, 
/**
 * Its width, px.
 */
width_px: number, 
/**
 * Its height, px.
 */
height_px: number, 
/**
 * What it is for.
 */
kind: PhotoKind, 
/**
 * The step it belongs to; may be empty.
 */
step: string, 
/**
 * The piece it shows; empty for the whole.
 */
piece: string, 
/**
 * A line under it.
 */
text: string, 
/**
 * Who took it.
 */
who: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * One size of the mix.
 */
export type Size = { 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Share of the balloons, percent.
 */
share_pct: number, 
/**
 * Blown from this diameter, tenths of a millimetre.
 */
from_dmm: number, 
/**
 * To this diameter, tenths of a millimetre.
 */
to_dmm: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * So many balloons of a colour and nominal size to one diameter.
 */
export type SizingLine = { 
/**
 * The piece.
 */
piece: string, 
/**
 * Colour id.
 */
colour: string, 
/**
 * Colour inside, id; empty for a single balloon.
 */
inside: string, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * What it is.
 */
kind: ItemKind, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * Balls.
 */
count: number, 
/**
 * Volume of one, mL.
 */
volume_ml: number, 
/**
 * Strokes of the hand pump for one, if it is pumped by hand.
 */
strokes: number | null, 
/**
 * Seconds of one inflator nozzle for one, tenths, if it is blown by the inflator.
 */
inflator_ds: number | null, };

/**
 * A vehicle's load space.
 */
export type Space = { 
/**
 * Its id in the job's list of further vehicles; empty for the job's own.
 */
van: string, 
/**
 * What it is called.
 */
name: string, 
/**
 * Inside, mm.
 */
length_mm: number, 
/**
 * Inside, mm.
 */
width_mm: number, 
/**
 * Inside, mm.
 */
height_mm: number, 
/**
 * Door at the end of its length, mm; 0 is not known.
 */
door_width_mm: number, 
/**
 * Its height, mm; 0 is not known.
 */
door_height_mm: number, 
/**
 * The most that it may carry, g; 0 is not known.
 */
payload_g: number, 
/**
 * What is in the way, cut to the space.
 */
blocked: Array<Blocked>, };

/**
 * What the job really took, as typed afterwards; 0 is not entered.
 */
export type Spent = { 
/**
 * Work in the studio, all people together, min.
 */
prepare_min: number, 
/**
 * Packing, loading and driving, min.
 */
travel_min: number, 
/**
 * Work at the venue, min.
 */
install_min: number, 
/**
 * Taking down, min.
 */
strike_min: number, 
/**
 * Goods, cents; 0 counts what was used.
 */
goods_cents: number, 
/**
 * Driven, tenths of a kilometre.
 */
driven_hm: number, 
/**
 * Whatever else was paid for: parking, hired help, cents.
 */
other_cents: number, 
/**
 * What to do otherwise next time.
 */
remarks: string, 
/**
 * When these figures were settled, ms; 0 while they are not. Only settled jobs are learnt from.
 */
settled_ms: number, 
/**
 * Settled: net price, cents.
 */
net_cents: number, 
/**
 * Settled: goods and whatever else was paid for, cents.
 */
cost_cents: number, 
/**
 * Settled: working time that was planned, s.
 */
planned_s: number, 
/**
 * Settled: working time that it took, s.
 */
took_s: number, 
/**
 * Settled: garland and chain, mm.
 */
metres_mm: number, 
/**
 * Settled: balloons.
 */
balloons: number, };

/**
 * How far the time of one kind of work has gone apart from job to job, as this decorator's own readings say. Its id in the list is the
 * field of [`crate::stock::Rates`] that it belongs to.
 */
export type Spread = { 
/**
 * A quarter of the jobs lie below this, percent of the estimate.
 */
low_pct: number, 
/**
 * A quarter of the jobs lie above this, percent of the estimate.
 */
high_pct: number, 
/**
 * Jobs that it comes from.
 */
jobs: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken back.
 */
gone: boolean, };

/**
 * How far the job has come.
 */
export type Stage = "enquiry" | "quoted" | "booked" | "ordered" | "done" | "closed" | "postponed" | "cancelled" | "newer";

/**
 * What rates and rules begin with.
 */
export type StartingValues = { 
/**
 * How long work takes.
 */
rates: Rates, 
/**
 * Spares, freshness, transport.
 */
rules: Rules, };

/**
 * A step of the checklist.
 */
export type Step = { 
/**
 * Derived from what it is about, so that ticks survive a change of plan.
 */
id: string, 
/**
 * Short code for paper: `L3`. May change with the plan.
 */
code: string, 
/**
 * When in the job.
 */
phase: Phase, 
/**
 * Begins with a verb, at most 32 characters.
 */
title: string, 
/**
 * One line of how; may be empty.
 */
how: string, 
/**
 * The piece it is about; empty for the whole job.
 */
piece: string, 
/**
 * How much of it there is, in `unit`; 1 for a plain step.
 */
quantity: number, 
/**
 * Unit of the quantity; empty for a plain step.
 */
unit: string, 
/**
 * How long it takes, s; 0 if it has no time of its own.
 */
duration_s: number, 
/**
 * Who: names.
 */
who: Array<string>, 
/**
 * When it begins, ms, if it is planned.
 */
start_ms: number | null, 
/**
 * The tasks that it is the tick of: ids; empty if it has no time of its own.
 */
tasks: Array<string>, 
/**
 * What the step needs at hand.
 */
needs: Array<string>, 
/**
 * The caution that stands first; empty if none.
 */
caution: string, };

/**
 * Where one device likes to see a step: right after another one. It holds on that device only. An anchor that a
 * later plan no longer has leaves the step where the plan has it.
 */
export type StepPlace = { 
/**
 * The step.
 */
step: string, 
/**
 * The device whose order it is.
 */
device: string, 
/**
 * Counts up over all places: they are applied in this order.
 */
turn: number, 
/**
 * The step before it; empty is the place that the plan gives it, unless it is the first.
 */
after: string, 
/**
 * It stands before all others of its phase.
 */
first: boolean, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, };

/**
 * Something that still helps.
 */
export type Still = { 
/**
 * Which: `person`, `without`, `ready_by`.
 */
code: string, 
/**
 * The person who comes, or the piece that is left out; empty for one more person without a name, and for a later ready-by.
 */
name: string, 
/**
 * The edits that make it so.
 */
edits: Array<Edit>, 
/**
 * When the hand-over is over then, ms.
 */
finish_ms: number, 
/**
 * How much later than agreed that is, s; negative is to spare.
 */
late_s: number, };

/**
 * A place in a vehicle.
 */
export type Stow = { 
/**
 * Which trip, counted from 1.
 */
trip: number, 
/**
 * Place in the order of loading within the trip, from 1.
 */
turn: number, 
/**
 * Place in the order of unloading within the trip, from 1.
 */
out: number, 
/**
 * Its corner nearest to the bulkhead, the left side and the floor: along, mm.
 */
x_mm: number, 
/**
 * Across, mm.
 */
y_mm: number, 
/**
 * Up, mm.
 */
z_mm: number, 
/**
 * Its sides as it lies, squeezed: along, mm.
 */
dx_mm: number, 
/**
 * Across, mm.
 */
dy_mm: number, 
/**
 * Up, mm.
 */
dz_mm: number, 
/**
 * How far it is squeezed, percent of its free volume.
 */
squeezed_pct: number, 
/**
 * A bag that lies doubled over.
 */
folded: boolean, };

/**
 * From the first work to the last on one day.
 */
export type Stretch = { 
/**
 * Begins, ms.
 */
start_ms: number, 
/**
 * Ends, ms.
 */
end_ms: number, 
/**
 * The tasks, in order: ids.
 */
tasks: Array<string>, };

/**
 * Where the way of a parcel ends.
 */
export type Stuck = { 
/**
 * The id of the door, corner, lift or stair in the job; empty for a vehicle.
 */
door: string, 
/**
 * What kind it is; absent for a vehicle.
 */
kind: PortalKind | null, 
/**
 * What it is called.
 */
name: string, 
/**
 * The side of the parcel that is too long: `length`, `width`, `height`.
 */
side: string, 
/**
 * So much shorter it would pass, mm.
 */
by_mm: number, 
/**
 * What would help, in words.
 */
cure: string, };

/**
 * So much of an item for so much of a piece.
 */
export type Sundry = { 
/**
 * The item's id.
 */
item: string, 
/**
 * The kind of piece that needs it.
 */
kind: PieceKind, 
/**
 * Only on these mounts; empty is all.
 */
mounts: Array<Mount>, 
/**
 * Foils: only put up in these ways; empty is all.
 */
stands: Array<FoilStand>, 
/**
 * What it is counted by.
 */
per: Per, 
/**
 * How much of it, hundredths of the item's unit.
 */
hundredths: number, 
/**
 * Is counted back in after the strike.
 */
comes_home: boolean, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * What makes the finish surer.
 */
export type Surer = { 
/**
 * Ids of the pins to take off; empty is one more person.
 */
pins: Array<string>, 
/**
 * How sure it is then, thousandths.
 */
ready_pm: number, 
/**
 * So much earlier everybody has to begin besides to be sure enough, s; absent if no earlier start is.
 */
earlier_s: number | null, 
/**
 * How sure that makes it, thousandths.
 */
then_pm: number, };

/**
 * Photos that were freed, because nothing named them any more.
 */
export type Swept = { 
/**
 * How many.
 */
photos: number, 
/**
 * Their length, bytes, as far as it was known.
 */
bytes: number, 
/**
 * There is more to look over: ask again.
 */
more: boolean, };

/**
 * A colour of the stockroom for a job.
 */
export type TakeColour = { 
/**
 * The job.
 */
id: string, 
/**
 * The colour's id in the stockroom.
 */
colour: string, };

/**
 * A way to take the job.
 */
export type TakeWay = { 
/**
 * Which: `around` (at other hours), `without` (those who are free), `more_people` (those, and others), `earlier_load_in`.
 */
code: string, 
/**
 * How many people more, or how many minutes earlier.
 */
n: number, 
/**
 * Who stays with the other job: names.
 */
without: Array<string>, 
/**
 * The edits that make it so, without what is to be hired.
 */
edits: Array<Edit>, 
/**
 * What must be hired or borrowed besides: the vehicle or kit that is out with another job.
 */
hire: Array<Clash>, 
/**
 * The first work begins, ms.
 */
start_by_ms: number | null, 
/**
 * Leave the studio, ms.
 */
leave_by_ms: number | null, 
/**
 * Working time of all people, s.
 */
work_s: number, 
/**
 * The chance to be ready, thousandths.
 */
ready_pm: number | null, };

/**
 * A piece of work with its time and people.
 */
export type Task = { 
/**
 * Derived from what it is about.
 */
id: string, 
/**
 * What to do.
 */
title: string, 
/**
 * When in the job.
 */
phase: Phase, 
/**
 * The piece it is about; empty for the whole job.
 */
piece: string, 
/**
 * Working time of all its people together, s.
 */
work_s: number, 
/**
 * From start to end, s; with a time, at the pace of those who do it.
 */
duration_s: number, 
/**
 * People it takes.
 */
people: number, 
/**
 * By how many people it can be done, fewest first; empty if there is one way only.
 */
ways: Array<TaskWay>, 
/**
 * A hand has set how many people do it.
 */
people_set: boolean, 
/**
 * Inflators it takes.
 */
inflators: number, 
/**
 * Ladders it takes.
 */
ladders: number, 
/**
 * Start, ms; absent if the job has no ready-by or no time was found.
 */
start_ms: number | null, 
/**
 * End, ms.
 */
end_ms: number | null, 
/**
 * Earliest start if the work begins when it must and everybody keeps to their order, ms; absent as `start_ms` is, and for the
 * way back.
 */
early_ms: number | null, 
/**
 * Latest start that makes nothing late, ms.
 */
late_ms: number | null, 
/**
 * Working time between the two, s: the total float. 0 is on the critical chain.
 */
slack_s: number | null, 
/**
 * Held at its start by a hand.
 */
pinned: boolean, 
/**
 * Who: ids of the crew.
 */
who: Array<string>, 
/**
 * Tasks that must be over first: ids.
 */
after: Array<string>, 
/**
 * What the working time was summed from.
 */
terms: Array<Term>, };

/**
 * How sure one task is.
 */
export type TaskChance = { 
/**
 * Its id.
 */
task: string, 
/**
 * It takes less than this on a tenth of the days, s.
 */
low_s: number, 
/**
 * It takes more than this on a tenth of the days, s.
 */
high_s: number, 
/**
 * Days on which a minute more of it is a minute more at the finish, thousandths (criticality index).
 */
critical_pm: number, 
/**
 * By so much it makes the finish later on a slow day of its own, s: its excess over the middle times the share above.
 */
adds_s: number, 
/**
 * Jobs that its spread comes from; 0 is the usual spread.
 */
jobs: number, };

/**
 * One way to do a task.
 */
export type TaskWay = { 
/**
 * So many people.
 */
people: number, 
/**
 * From start to end at the usual pace, s.
 */
duration_s: number, };

/**
 * How many people do a task, set by hand. Its id in the list is that of a pin of the task.
 */
export type Team = { 
/**
 * The task, by its id in the plan.
 */
task: string, 
/**
 * So many people.
 */
people: number, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Taken off.
 */
gone: boolean, };

/**
 * One term of a total.
 */
export type Term = { 
/**
 * What it is.
 */
label: string, 
/**
 * How much, in the unit of the total.
 */
value: number, };

/**
 * What one device says of one step. No two devices write the same tick, so no merge can hide one.
 */
export type Tick = { 
/**
 * The step.
 */
step: string, 
/**
 * The device that wrote it.
 */
device: string, 
/**
 * Counts up over all devices' ticks of the step: the highest turn is what holds.
 */
turn: number, 
/**
 * Done, or taken back.
 */
done: boolean, 
/**
 * Left out on purpose.
 */
skipped: boolean, 
/**
 * Why it was left out; may be empty.
 */
reason: string, 
/**
 * How much was done, in the unit of the step.
 */
quantity: number, 
/**
 * What the step said when it was ticked, for a step that a later plan no longer has.
 */
what: string, 
/**
 * Who did it.
 */
who: string, 
/**
 * When, ms since 1970 UTC, by the clock of the device.
 */
at_ms: number, 
/**
 * How long it took by that device's own timer, s; 0 if it was not timed.
 */
took_s: number, };

/**
 * A tick.
 */
export type TickStep = { 
/**
 * The job.
 */
id: string, 
/**
 * The step.
 */
step: string, 
/**
 * Done, or taken back.
 */
done: boolean, 
/**
 * Left out on purpose.
 */
skipped: boolean, 
/**
 * Why it was left out; may be empty.
 */
reason: string, 
/**
 * How much is done, in the step's unit.
 */
quantity: number, 
/**
 * What the step says.
 */
what: string, 
/**
 * Who did it.
 */
who: string, 
/**
 * How long it took by this device's timer, s; 0 if not timed.
 */
took_s: number, };

/**
 * A tick that is on disk.
 */
export type Ticked = { 
/**
 * The job's revision.
 */
revision: number, 
/**
 * Its key among the job's ticks.
 */
key: string, 
/**
 * The tick.
 */
tick: Tick, 
/**
 * What undo would take back.
 */
undo: string | null, };

/**
 * Agreed times: wall clock at the venue as `YYYY-MM-DDTHH:MM`, empty while not agreed.
 */
export type Times = { 
/**
 * The venue lets the crew in.
 */
load_in: string, 
/**
 * Everything stands, is tidy and handed over.
 */
ready_by: string, 
/**
 * So long before ready-by the work is to be over, min: room for a slow day.
 */
early_min: number, 
/**
 * The guests come.
 */
doors_open: string, 
/**
 * Taking down may begin; empty if nobody strikes.
 */
strike_from: string, 
/**
 * The room must be clear.
 */
strike_by: string, };

/**
 * What several jobs do to each other.
 */
export type Together = { 
/**
 * Double bookings.
 */
clashes: Array<Clash>, 
/**
 * Rest that they take from somebody.
 */
rests: Array<ShortRest>, };

/**
 * What a rod is.
 */
export type TubeKind = "frame" | "line" | "foil" | "ribbon" | "stick";

/**
 * What undo or redo changed.
 */
export type Undone = { 
/**
 * What was taken back or done again; absent if there was nothing.
 */
label: string | null, 
/**
 * Paths that were written.
 */
changed: Array<Array<string>>, 
/**
 * Paths that somebody had changed since: their newer value was replaced as well.
 */
changed_since: Array<Array<string>>, 
/**
 * The job as it now is.
 */
view: JobView, };

/**
 * What was really used of an item.
 */
export type Used = { 
/**
 * Single balloons or units.
 */
units: number, };

/**
 * A vehicle in the book, whose measures jobs copy; in a job, one that goes along besides the first.
 */
export type Van = { 
/**
 * Its measures.
 */
vehicle: Vehicle, 
/**
 * In a job: where it was copied from, id in the book of vehicles.
 */
source: string, 
/**
 * Place in the list.
 */
order: string, 
/**
 * Removed.
 */
gone: boolean, };

/**
 * What the job is carried in.
 */
export type Vehicle = { 
/**
 * What it is called.
 */
name: string, 
/**
 * Load space, mm.
 */
length_mm: number, 
/**
 * Load space, mm.
 */
width_mm: number, 
/**
 * Load space, mm.
 */
height_mm: number, 
/**
 * Its widest door, mm.
 */
door_width_mm: number, 
/**
 * Its widest door, mm.
 */
door_height_mm: number, 
/**
 * The most that it may carry besides the people, g; 0 is not known.
 */
payload_g: number, 
/**
 * What is in the way inside: wheel arches, slopes in steps.
 */
blocked: Array<Blocked>, };

/**
 * The venue.
 */
export type Venue = { 
/**
 * Its name.
 */
name: string, 
/**
 * Where to drive to.
 */
address: string, 
/**
 * Whom to ask for on the day: name and telephone.
 */
contact: string, 
/**
 * IANA time zone, such as `Europe/London`.
 */
zone: string, 
/**
 * Indoors, covered or in the open.
 */
place: Place, 
/**
 * Strong sun on the piece.
 */
sun: boolean, 
/**
 * Height above the sea, m.
 */
altitude_m: number, 
/**
 * Height of the ceiling, mm; 0 is not known.
 */
ceiling_mm: number, 
/**
 * Expected temperature at the venue, tenths of a degree Celsius.
 */
temperature_dc: number, 
/**
 * One way from the vehicle to the room, m.
 */
walk_m: number, 
/**
 * Steps of stairs on the way.
 */
stair_steps: number, 
/**
 * Rules of the house: no adhesive, no glitter, papers asked for.
 */
house_rules: string, 
/**
 * A photograph of the place behind the design: hash of its bytes; empty is none.
 */
photo: string, 
/**
 * Its width, px.
 */
photo_width_px: number, 
/**
 * Its height, px.
 */
photo_height_px: number, 
/**
 * First tapped point, px from the left.
 */
photo_ax_px: number, 
/**
 * First tapped point, px from the top.
 */
photo_ay_px: number, 
/**
 * Second tapped point, px from the left.
 */
photo_bx_px: number, 
/**
 * Second tapped point, px from the top.
 */
photo_by_px: number, 
/**
 * From the first tapped point to the second in the room, mm; 0 is not measured.
 */
photo_between_mm: number, 
/**
 * Where the scene's left end stands on the floor, px from the left.
 */
photo_ox_px: number, 
/**
 * The same, px from the top.
 */
photo_oy_px: number, };

/**
 * A wall of balloons on a grid of panels.
 */
export type Wall = { 
/**
 * Width, mm.
 */
width_mm: number, 
/**
 * Height, mm.
 */
height_mm: number, 
/**
 * Balloons to a crossing of the grid: 1, or 4 for quads.
 */
each: number, 
/**
 * From crossing to crossing, mm; 0 is as near as the balloons allow.
 */
pitch_mm: number, 
/**
 * Nominal size, in.
 */
size_in: number, 
/**
 * Blown to, tenths of a millimetre.
 */
blown_dmm: number, 
/**
 * How the colours lie.
 */
pattern: WallPattern, 
/**
 * Colours with their shares.
 */
palette: { [key in string]: Shade }, 
/**
 * Ballast of the panels, g.
 */
ballast_g: number, };

/**
 * How colours lie on a wall.
 */
export type WallPattern = "blended" | "rows" | "stripes" | "checks" | "newer";

/**
 * What two jobs want.
 */
export type Wanted = "person" | "kit" | "vehicle";

/**
 * What became of the balloons after the event.
 */
export type Waste = { 
/**
 * Balloons that were burst and gathered.
 */
burst: number, 
/**
 * Closed bags of it.
 */
bags: number, 
/**
 * Who took the bags.
 */
taken_by: string, 
/**
 * What else is to be said.
 */
remarks: string, };

/**
 * A way to do the job, and what comes of it.
 */
export type Way = { 
/**
 * Which: `as_is`, `more_people`, `fewer_people`, `earlier_load_in`, `later_load_in`, `more_inflators`.
 */
code: string, 
/**
 * The person that leaves; empty for the other ways.
 */
name: string, 
/**
 * The edits that make it so; none for the job as it is.
 */
edits: Array<Edit>, 
/**
 * The first work begins, ms.
 */
start_by_ms: number | null, 
/**
 * Leave the studio, ms.
 */
leave_by_ms: number | null, 
/**
 * You come so long after the load-in opens, s; negative is too late for the work.
 */
slack_s: number | null, 
/**
 * Working time of all people, s.
 */
work_s: number, 
/**
 * Price with tax, cents; absent in a crew copy.
 */
price_cents: number | null, 
/**
 * The chance to be ready, thousandths; absent while something has no time.
 */
ready_pm: number | null, 
/**
 * Every task has its time and people, and the load-in is early enough.
 */
enough: boolean, 
/**
 * What stands against it: what is wrong with its times, worst first.
 */
against: Array<string>, 
/**
 * It is better than the job as it is: it is enough where that is not, or less short; or it begins later, spares more, is surer or
 * costs less, and is as good otherwise. Whoever takes another way takes it for reasons of their own.
 */
helps: boolean, };

/**
 * What a total was summed from.
 */
export type Why = { 
/**
 * The total's name as a person says it.
 */
title: string, 
/**
 * Unit of total and terms: `balloons`, `mm`, `ml`, `s`, `cents`, `ms`.
 */
unit: string, 
/**
 * The total.
 */
total: number, 
/**
 * What it was summed from, in order. They add up to the total.
 */
terms: Array<Term>, 
/**
 * The rule in one sentence.
 */
rule: string, };

/**
 * A figure with its word.
 */
export type Worth = { 
/**
 * What it is.
 */
label: string, 
/**
 * How much.
 */
value: number, 
/**
 * Its unit: empty, `mm`, `g`, `ml`.
 */
unit: string, };
