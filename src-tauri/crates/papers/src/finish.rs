//! What printpdf cannot say itself: version, real dates, a fixed id, language, outline, tagged structure.

use std::collections::BTreeMap;

use lopdf::{Dictionary, Document, Object, ObjectId, StringFormat};
use printpdf::{DictItem, Op};
use sha2::{Digest, Sha256};

use crate::PaperError;
use crate::doc::Bookmark;

/// One marked piece of a page's content.
pub struct Marked {
    /// From 0.
    page: usize,
    /// Structure type: H1, P, Figure.
    kind: &'static str,
    /// Number of the piece in its page's content.
    mcid: i64,
    /// Words for a drawing.
    alt: Option<String>,
}

/// Writes marks into the content while the pages are drawn.
#[derive(Default)]
pub struct Tagger {
    /// All marks, in reading order.
    pub marks: Vec<Marked>,
    next: BTreeMap<usize, i64>,
}

/// What is written into the file besides its pages.
pub struct Stamp<'a> {
    /// `D:YYYYMMDDHHMMSS+00'00'`.
    pub date: &'a str,
    /// Such as `en-GB`.
    pub language: &'a str,
}

impl Tagger {
    /// Begins a piece that a reader should hear.
    pub fn begin(&mut self, ops: &mut Vec<Op>, page: usize, kind: &'static str, alt: Option<&str>) {
        let next = self.next.entry(page).or_insert(0);
        let mcid = *next;
        *next += 1;
        let map = BTreeMap::from([("MCID".to_string(), DictItem::Int(mcid))]);
        ops.push(Op::BeginMarkedContentWithProperties {
            tag: kind.to_string(),
            properties: DictItem::Dict { map },
        });
        self.marks.push(Marked {
            page,
            kind,
            mcid,
            alt: alt.map(str::to_string),
        });
    }

    /// Begins what a reader should skip.
    pub fn artifact(ops: &mut Vec<Op>) {
        ops.push(Op::BeginMarkedContent {
            tag: "Artifact".into(),
        });
    }

    /// Ends either.
    pub fn end(ops: &mut Vec<Op>) {
        ops.push(Op::EndMarkedContent);
    }
}

/// A text string as UTF-16 with its mark (ISO 32000-1, 7.9.2.2).
pub fn text(s: &str) -> Object {
    let mut bytes = vec![0xFE, 0xFF];
    bytes.extend(s.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(bytes, StringFormat::Hexadecimal)
}

/// A mistake in a file that was just made.
pub fn fault(_: lopdf::Error) -> PaperError {
    PaperError::inside("the file is not whole")
}

/// Version, dates, language, outline and structure.
pub fn finish(
    file: &mut Document,
    marks: &[Marked],
    bookmarks: &[Bookmark],
    stamp: &Stamp<'_>,
) -> Result<(), PaperError> {
    file.version = "1.7".into();
    let info = file
        .trailer
        .get(b"Info")
        .and_then(Object::as_reference)
        .map_err(fault)?;
    let info = file
        .get_object_mut(info)
        .and_then(Object::as_dict_mut)
        .map_err(fault)?;
    for key in ["CreationDate", "ModDate"] {
        if stamp.date.is_empty() {
            info.remove(key.as_bytes());
        } else {
            info.set(key, Object::string_literal(stamp.date));
        }
    }
    info.remove(b"GTS_PDFXVersion");
    let root = structure(file, marks)?;
    let outline = outline(file, bookmarks);
    let catalog = file
        .trailer
        .get(b"Root")
        .and_then(Object::as_reference)
        .map_err(fault)?;
    let catalog = file
        .get_object_mut(catalog)
        .and_then(Object::as_dict_mut)
        .map_err(fault)?;
    if !stamp.language.is_empty() {
        catalog.set("Lang", text(stamp.language));
    }
    catalog.set(
        "MarkInfo",
        Dictionary::from_iter([("Marked", Object::Boolean(true))]),
    );
    catalog.set("StructTreeRoot", root);
    catalog.set(
        "ViewerPreferences",
        Dictionary::from_iter([("DisplayDocTitle", Object::Boolean(true))]),
    );
    if let Some(outline) = outline {
        catalog.set("Outlines", outline);
        catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
    }
    Ok(())
}

/// Sets the file's id to a hash of all that it shows, so that the same input gives the same bytes.
pub fn seal(file: &mut Document, title: &str, stamp: &Stamp<'_>) {
    let mut hash = Sha256::new();
    for part in [title, stamp.date, stamp.language] {
        hash.update(part.as_bytes());
        hash.update([0]);
    }
    for object in file.objects.values() {
        if let Object::Stream(stream) = object {
            hash.update(&stream.content);
        }
    }
    let id: Vec<u8> = hash.finalize().iter().take(16).copied().collect();
    let id = Object::String(id, StringFormat::Hexadecimal);
    file.trailer.set("ID", Object::Array(vec![id.clone(), id]));
}

/// The outline, flat and in the order of the papers.
fn outline(file: &mut Document, bookmarks: &[Bookmark]) -> Option<ObjectId> {
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let root = file.new_object_id();
    let ids: Vec<ObjectId> = bookmarks.iter().map(|_| file.new_object_id()).collect();
    let (first, last) = (ids.first()?, ids.last()?);
    for (index, (bookmark, id)) in bookmarks.iter().zip(&ids).enumerate() {
        let mut item = Dictionary::new();
        item.set("Title", text(&bookmark.title));
        item.set("Parent", root);
        if let Some(page) = pages.get(bookmark.page) {
            let fit = Object::Name(b"Fit".to_vec());
            item.set("Dest", Object::Array(vec![Object::Reference(*page), fit]));
        }
        if let Some(before) = index.checked_sub(1).and_then(|i| ids.get(i)) {
            item.set("Prev", *before);
        }
        if let Some(after) = ids.get(index + 1) {
            item.set("Next", *after);
        }
        file.set_object(*id, item);
    }
    let count = i64::try_from(ids.len()).unwrap_or(0);
    file.set_object(
        root,
        Dictionary::from_iter([
            ("Type", Object::Name(b"Outlines".to_vec())),
            ("First", Object::Reference(*first)),
            ("Last", Object::Reference(*last)),
            ("Count", Object::Integer(count)),
        ]),
    );
    Some(root)
}

/// The structure tree of the marks, in their order.
fn structure(file: &mut Document, marks: &[Marked]) -> Result<ObjectId, PaperError> {
    let pages: Vec<ObjectId> = file.get_pages().into_values().collect();
    let root = file.new_object_id();
    let document = file.new_object_id();
    let mut kids = Vec::new();
    let mut parents: Vec<Vec<Object>> = vec![Vec::new(); pages.len()];
    for mark in marks {
        let (Some(page), Some(refs)) = (pages.get(mark.page), parents.get_mut(mark.page)) else {
            continue;
        };
        let mut element = Dictionary::new();
        element.set("Type", "StructElem");
        element.set("S", Object::Name(mark.kind.as_bytes().to_vec()));
        element.set("P", document);
        element.set("Pg", *page);
        element.set("K", mark.mcid);
        if let Some(alt) = &mark.alt {
            element.set("Alt", text(alt));
        }
        let id = file.add_object(element);
        kids.push(Object::Reference(id));
        refs.push(Object::Reference(id));
    }
    let mut numbers = Vec::new();
    for (index, (page, refs)) in (0_i64..).zip(pages.iter().zip(parents)) {
        numbers.push(Object::Integer(index));
        numbers.push(Object::Reference(file.add_object(Object::Array(refs))));
        let page = file
            .get_object_mut(*page)
            .and_then(Object::as_dict_mut)
            .map_err(fault)?;
        page.set("StructParents", index);
        page.set("Tabs", "S");
    }
    let count = i64::try_from(pages.len()).unwrap_or(0);
    let tree = file.add_object(Dictionary::from_iter([("Nums", Object::Array(numbers))]));
    file.set_object(
        document,
        Dictionary::from_iter([
            ("Type", "StructElem".into()),
            ("S", Object::Name(b"Document".to_vec())),
            ("P", Object::Reference(root)),
            ("K", Object::Array(kids)),
        ]),
    );
    file.set_object(
        root,
        Dictionary::from_iter([
            ("Type", "StructTreeRoot".into()),
            ("K", Object::Reference(document)),
            ("ParentTree", Object::Reference(tree)),
            ("ParentTreeNextKey", Object::Integer(count)),
        ]),
    );
    Ok(root)
}
