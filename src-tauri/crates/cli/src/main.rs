//! The terminal host: the desk's commands from a shell. Nothing but a transport.
mod call;
mod picture;
mod schedule;
mod solve;
mod write;

use std::process::ExitCode;

use desk::Fault;

const USAGE: &str = "\
airwright-cli call COMMAND [JSON] [--data DIR] [--in FILE] [--out FILE]
    asks the desk; JSON may be - for what comes in on the standard input.
    --data: the folder of the jobs (else AIRWRIGHT_DATA_DIR), for commands that need it
    --in, --out: the bytes that go with the question, and where the bytes of the answer go
airwright-cli demo --out DIR [--today YYYY-MM-DD]
    writes every paper, the job file, the job and its plan of the demo job
airwright-cli plan JOB.json --out DIR
    writes the plan and every paper of a job; JOB.json holds a job, or {\"job\": …, \"private\": …}
airwright-cli picture JOB.json OUT.png [--size WxH] [--yaw DEG] [--pitch DEG] [--piece ID] [--clear]
    takes a picture of a job, or of one piece; --clear: nothing behind it
airwright-cli solve packing FILE.json [--instant]
    packs clusters along a path; FILE.json holds {\"clusters\": [[diameter in m, …], …], \"path_m\": [[x, y, z], …]} and, if they
    are not as usual, \"neck\": 0.45, \"softness\": 0.05, \"seed\": 1, \"effort\": \"preview\" or \"final\", \"closed\": true
    --instant: the lengths by the instant rule alone
airwright-cli solve loading FILE --instance K [--support full|none] [--seconds S] [--all]
    loads boxes from a thpack file; --all: every problem of the file, a line each, and the mean
airwright-cli solve loads FILE.json [--seconds S] [--instance K] [--all]
    loads vehicles from a file of published loads; --all: a line each, and how many fit
airwright-cli solve schedule FILE [--seconds S | --work N]
airwright-cli solve schedule --folder DIR [--seconds S | --work N] [--known FILE.csv]
    finds the shortest schedule of a project in PSPLIB single-mode or ProGen/max text, or of every one in a folder
    --seconds: of computing (1 if neither is given); --work: counted steps, with the same answer on every device
    --known: published makespans to compare with, as rows of instance and best known or optimal makespan";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let done = match words.split_first() {
        Some((command, rest)) if command == "call" => call::call(rest),
        Some((command, rest)) if command == "demo" => write::demo(rest),
        Some((command, rest)) if command == "plan" => write::plan(rest),
        Some((command, rest)) if command == "picture" => picture::picture(rest),
        Some((command, rest)) if command == "solve" => solve::solve(rest),
        _ => Err(usage("this is what there is")),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) if fault.code == "usage" => {
            eprintln!("{}\n\n{USAGE}", fault.message);
            ExitCode::from(2)
        }
        Err(fault) => {
            eprintln!("{}: {} {}", fault.code, fault.message, fault.hint);
            ExitCode::FAILURE
        }
    }
}

/// A question that this program does not understand.
fn usage(message: impl Into<String>) -> Fault {
    Fault {
        code: "usage".into(),
        message: message.into(),
        hint: String::new(),
    }
}
