//! Keeping: SQLite, job documents, merging, photos, backups, migrations.
