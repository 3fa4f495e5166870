//! A file inside the PDF: the structured copy of a bill beside its pages.
//!
//! It is an embedded file (ISO 32000-1, 7.11.4) that is associated with the document (ISO 32000-2, 14.13) as another form of what the
//! pages say. There is a standard for hybrid invoices, but it wants another syntax inside (UN/CEFACT's), a name of its own and PDF/A-3;
//! this file is none of these, and says so by having no such name and no such metadata.

use lopdf::{Dictionary, Document, Object, Stream};

use crate::PaperError;
use crate::finish::{fault, text};

/// A file to go inside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attachment {
    /// Its name, of ASCII letters.
    pub name: &'static str,
    /// What it is, for people.
    pub words: &'static str,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Puts an XML file inside. `date` is written as PDF writes it, or empty.
pub fn attach(file: &mut Document, inside: &Attachment, date: &str) -> Result<(), PaperError> {
    let size = i64::try_from(inside.bytes.len()).unwrap_or(i64::MAX);
    let mut params = Dictionary::from_iter([("Size", Object::Integer(size))]);
    if !date.is_empty() {
        params.set("ModDate", Object::string_literal(date));
    }
    let stream = Stream::new(
        Dictionary::from_iter([
            ("Type", Object::Name(b"EmbeddedFile".to_vec())),
            ("Subtype", Object::Name(b"text/xml".to_vec())),
            ("Params", Object::Dictionary(params)),
        ]),
        inside.bytes.clone(),
    );
    let stream = Object::Reference(file.add_object(stream));
    let name = Object::string_literal(inside.name);
    let files = Dictionary::from_iter([("F", stream.clone()), ("UF", stream)]);
    let spec = Object::Reference(file.add_object(Dictionary::from_iter([
        ("Type", Object::Name(b"Filespec".to_vec())),
        ("F", name.clone()),
        ("UF", text(inside.name)),
        ("Desc", text(inside.words)),
        ("EF", Object::Dictionary(files)),
        ("AFRelationship", Object::Name(b"Alternative".to_vec())),
    ])));
    let tree = Dictionary::from_iter([("Names", Object::Array(vec![name, spec.clone()]))]);
    let names = Dictionary::from_iter([("EmbeddedFiles", Object::Dictionary(tree))]);
    let catalog = file.catalog_mut().map_err(fault)?;
    catalog.set("Names", names);
    catalog.set("AF", Object::Array(vec![spec]));
    Ok(())
}
