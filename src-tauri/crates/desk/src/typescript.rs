//! The TypeScript of the commands, made in a test and compared with the committed file.

use std::any::TypeId;
use std::collections::{BTreeMap, BTreeSet};

use ts_rs::{Config, TS, TypeVisitor};

/// Where the page keeps it.
const FILE: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../../../ui/src/desk/generated/commands.ts"
);

/// Collects commands and the types that they need.
pub(crate) struct Page {
    config: Config,
    interfaces: BTreeMap<&'static str, String>,
    types: BTreeMap<String, String>,
    seen: BTreeSet<TypeId>,
}

impl Page {
    fn new() -> Page {
        Page {
            config: Config::from_env(),
            interfaces: BTreeMap::new(),
            types: BTreeMap::new(),
            seen: BTreeSet::new(),
        }
    }

    /// One command with its doc lines.
    pub(crate) fn command<Args: TS + 'static, Answer: TS + 'static>(
        &mut self,
        group: &'static str,
        name: &str,
        docs: &[&str],
    ) {
        self.visit::<Args>();
        self.visit::<Answer>();
        let line = format!(
            "  /** {} */\n  {name}: {{ args: {}; answer: {} }};\n",
            docs.join(" ").trim(),
            Args::name(&self.config),
            Answer::name(&self.config)
        );
        self.interfaces.entry(group).or_default().push_str(&line);
    }

    fn text(self) -> String {
        let mut out = String::from(
            "// Made from the list of commands by `UPDATE=1 cargo test -p desk`. Not written by hand.\n\n",
        );
        for (group, lines) in &self.interfaces {
            out += &format!("export interface {group} {{\n{lines}}}\n\n");
        }
        for declaration in self.types.values() {
            out += declaration;
            out += "\n\n";
        }
        out.truncate(out.trim_end().len());
        out + "\n"
    }
}

impl TypeVisitor for Page {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        if !self.seen.insert(TypeId::of::<T>()) {
            return;
        }
        // what has a file of its own has a declaration; the others are lists, options and plain values
        if T::output_path().is_some() {
            let docs = T::docs().unwrap_or_default();
            let declaration = T::decl(&self.config);
            self.types.insert(
                T::ident(&self.config),
                format!("{docs}export {declaration}"),
            );
        }
        T::visit_dependencies(self);
        T::visit_generics(self);
    }
}

#[test]
fn committed_typescript_is_fresh() {
    let mut page = Page::new();
    crate::commands::describe(&mut page);
    page.visit::<crate::Fault>();
    let fresh = page.text();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(FILE, &fresh).unwrap();
    }
    let committed = std::fs::read_to_string(FILE).unwrap_or_default();
    assert!(
        committed == fresh,
        "ui/src/desk/generated/commands.ts is stale: run `UPDATE=1 cargo test -p desk` and commit it"
    );
}
