//! Photos: files first, then rows; they travel with the job that names them, and go with the client.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

mod common;

use common::places::*;
use common::*;
use store::{JobFile, StoreError};

#[test]
fn photos_are_files_that_travel_and_go_with_the_client() {
    let (here, there) = (Place::new("photos-a"), Place::new("photos-b"));
    let mut a = with_job();
    assert_eq!(
        a.add_photo("j", &jpeg(1), NOW).unwrap_err().code(),
        "photos"
    );
    here.keep_for(&mut a);
    let photo = named(&mut a, &jpeg(1));
    a.add_photo("j", &jpeg(1), NOW + 9).unwrap();
    assert_eq!(
        a.photos("j").unwrap(),
        std::slice::from_ref(&photo),
        "the same photo twice is one"
    );
    // SHA-256 of these bytes by sha256sum of coreutils
    assert_eq!(
        photo.hash,
        "7dbbd7c208b2e772e1f9ce61c38d29f273272f18c06e856620a6c95cce57f09c"
    );
    assert_eq!(here.files(), [photo.file()]);
    assert_eq!(a.photo(&photo).unwrap(), jpeg(1));
    assert_eq!(a.find_photo(&photo.hash).unwrap().as_ref(), Some(&photo));
    assert_eq!(a.find_photo("").unwrap(), None);
    assert_eq!(
        a.add_photo("nobody", &jpeg(1), NOW).unwrap_err().code(),
        "no_such_job"
    );
    assert_eq!(
        a.add_photo("j", b"GIF89a", NOW).unwrap_err().code(),
        "not_a_photo"
    );

    // another job with the same photo keeps the file
    a.create_job("k", &job_value("Second"), None, strict)
        .unwrap();
    a.add_photo("k", &jpeg(1), NOW).unwrap();
    a.remove_photo("k", &photo).unwrap();
    assert_eq!(here.files().len(), 1);

    let file = a.export_job("j", true).unwrap();
    let mut b = memory();
    assert_eq!(
        b.open_job_file(&file, NOW, strict).unwrap_err().code(),
        "photos"
    );
    assert_eq!(b.job("j").unwrap_err().code(), "no_such_job");
    there.keep_for(&mut b);
    assert_eq!(b.open_job_file(&file, NOW, strict).unwrap().news.photos, 1);
    assert_eq!(b.open_job_file(&file, NOW, strict).unwrap().news.photos, 0);
    assert_eq!(b.photo(&photo).unwrap(), jpeg(1));

    // a photo that was changed on disk does not pass for itself, and the file that has it makes it whole
    std::fs::write(there.0.join(photo.file()), jpeg(2)).unwrap();
    assert_eq!(b.photo(&photo).unwrap_err().code(), "wrong_photo");
    assert_eq!(b.open_job_file(&file, NOW, strict).unwrap().news.photos, 0);
    assert_eq!(b.photo(&photo).unwrap(), jpeg(1));

    let before = a.export_job("j", false).unwrap();
    a.erase_client("j", NOW, strict).unwrap();
    assert!(here.files().is_empty() && a.photos("j").unwrap().is_empty());
    let came = a.open_job_file(&before, NOW, strict).unwrap();
    assert_eq!((came.news.photos, came.client_erased), (0, true));
    assert!(here.files().is_empty());
}

#[test]
fn only_what_the_job_names_travels_and_a_lost_file_keeps_no_job_at_home() {
    let here = Place::new("photos-named");
    let mut store = here.with_job();
    let first = named(&mut store, &jpeg(1));
    let second = named(&mut store, &jpeg(2));
    let file = store.export_job("j", false).unwrap();
    assert_eq!(photos_in(&file), [format!("photos/{}", second.file())]);
    // undo names the first again, and it is still there
    store.undo("j", NOW, strict).unwrap();
    let file = store.export_job("j", true).unwrap();
    assert_eq!(photos_in(&file), [format!("photos/{}", first.file())]);

    std::fs::remove_file(here.0.join(first.file())).unwrap();
    assert_eq!(store.photo(&first).unwrap_err().code(), "photo_missing");
    let without = store.export_job("j", false).unwrap();
    assert_eq!(photos_in(&without), [""; 0]);
    assert_eq!(JobFile::read(&without, NOW).unwrap().about.job, "j");
    // the file from before brings the bytes back, though the row was never gone
    store.open_job_file(&file, NOW, strict).unwrap();
    assert_eq!(store.photo(&first).unwrap(), jpeg(1));
}

#[test]
fn a_copy_has_the_photos_and_keeps_them_when_the_first_loses_its_own() {
    let here = Place::new("photos-copy");
    let mut store = here.with_job();
    let photo = named(&mut store, &jpeg(1));
    copied(&mut store);
    store.erase_client("j", NOW, strict).unwrap();
    assert_eq!(store.photos("j").unwrap(), []);
    assert_eq!(store.photo(&photo).unwrap(), jpeg(1));
    assert_eq!(photos_in(&store.export_job("k", true).unwrap()).len(), 1);
}

#[test]
fn a_file_that_is_refused_leaves_no_photos_behind() {
    let (here, there) = (Place::new("photos-c"), Place::new("photos-d"));
    let mut a = here.with_job();
    named(&mut a, &jpeg(3));
    let file = a.export_job("j", false).unwrap();
    let mut b = there.memory();
    let refuse = |_: &store::State| -> Result<store::Summary, String> { Err("no".into()) };
    let error: StoreError = b.open_job_file(&file, NOW, refuse).unwrap_err();
    assert_eq!(error.code(), "refused");
    assert_eq!(there.files(), [""; 0]);
}

#[test]
fn where_files_answer_late_the_row_still_comes_after_the_file() {
    let (mut a, mut b) = (with_job(), memory());
    let (mut here, mut there) = (Late::of(&mut a), Late::of(&mut b));

    // asked once, with nobody to run the errand: refused, and no row
    assert_eq!(
        a.add_photo("j", &jpeg(1), NOW).unwrap_err().code(),
        "photos"
    );
    assert_eq!(a.photos("j").unwrap(), []);
    here.errands.settle();
    assert_eq!(here.errands.due(), store::Errands::default());

    let photo = here.ask(|| a.add_photo("j", &jpeg(1), NOW)).unwrap();
    assert_eq!(here.rounds, 2);
    assert_eq!(here.files.get(&photo.file()), Some(&jpeg(1)));
    let second = here.ask(|| a.add_photo("j", &jpeg(2), NOW)).unwrap();
    edit(
        &mut a,
        &[
            set("venue/photo", photo.hash.as_str()),
            set("venue/contact", second.hash.as_str()),
        ],
    );
    assert_eq!(here.ask(|| a.photo(&photo)).unwrap(), jpeg(1));
    let file = here.ask(|| a.export_job("j", false)).unwrap();
    assert_eq!((photos_in(&file).len(), here.rounds), (2, 2));

    // a job that is refused takes its files away again
    let refuse = |_: &store::State| -> Result<store::Summary, String> { Err("no".into()) };
    let refused = there.ask(|| b.open_job_file(&file, NOW, refuse));
    assert_eq!(refused.unwrap_err().code(), "refused");
    assert!(there.files.is_empty());
    assert_eq!(b.job("j").unwrap_err().code(), "no_such_job");

    // both photos in one round of errands
    let came = there.ask(|| b.open_job_file(&file, NOW, strict)).unwrap();
    assert_eq!((came.news.photos, there.rounds), (2, 2));
    assert_eq!(there.ask(|| b.photo(&photo)).unwrap(), jpeg(1));
    there.files.clear();
    let lost = there.ask(|| b.photo(&photo));
    assert_eq!(lost.unwrap_err().code(), "photo_missing");

    here.ask(|| a.erase_client("j", NOW, strict)).unwrap();
    assert!(here.files.is_empty());
}
