//! The desktop host: a window, the desk's doors and two file dialogs. No logic lives here.
mod commands;
mod data;
mod files;
mod frame;

use std::path::{Path, PathBuf};

use tauri::{App, Builder, Context, Manager, Runtime};

use crate::data::Data;
use crate::files::ToOpen;

/// Everything but the window system: shared by the real program and by the mock runtime of the tests.
/// State is set up right after `build`, not in `.setup()`: `.setup()` runs only inside `run`
/// (after the windows of tauri.conf.json are made), so the mock runtime would never reach it.
/// `data_dir`: None = AIRWRIGHT_DATA_DIR if set, else a folder of our own in the system's app data folder.
/// A database that cannot be opened is no error here: the page says what is wrong with it.
pub fn build_app<R: Runtime>(
    builder: Builder<R>,
    context: Context<R>,
    data_dir: Option<PathBuf>,
) -> Result<App<R>, Box<dyn std::error::Error>> {
    let app = builder
        .plugin(tauri_plugin_dialog::init())
        .invoke_handler(tauri::generate_handler![
            commands::call,
            commands::call_bytes,
            commands::compute,
            commands::compute_bytes,
            commands::status,
            commands::reopen,
            files::save_file,
            files::open_file,
            files::file_to_open,
        ])
        .build(context)?;
    let dir = match data_dir.or_else(|| std::env::var_os("AIRWRIGHT_DATA_DIR").map(Into::into)) {
        Some(d) => d,
        // WebKit puts its own files into the app data folder: ours go one level down
        None => app.path().app_data_dir()?.join("jobs"),
    };
    app.manage(Data::open(dir));
    app.manage(ToOpen::default());
    Ok(app)
}

/// Opens the window and stays until it is closed.
pub fn run() {
    // here and not in `build_app`: in a test a second instance would end the test program with exit code 0
    let first = tauri_plugin_single_instance::init(|app, arguments, folder| {
        let opens = app
            .state::<ToOpen>()
            .add(arguments.into_iter().skip(1), Path::new(&folder));
        if let Some(window) = app.get_webview_window("main") {
            if opens {
                // the page asks for them; if it is still loading, it asks at its start
                let _ = window.eval("window.dispatchEvent(new Event('airwright-file'))");
            }
            // best effort: a window manager may refuse, and there is nobody to tell
            let _ = window.unminimize();
            let _ = window.set_focus();
        }
    });
    match build_app(
        Builder::default().plugin(first),
        tauri::generate_context!(),
        None,
    ) {
        Ok(app) => {
            let folder = std::env::current_dir().unwrap_or_default();
            app.state::<ToOpen>().add(std::env::args().skip(1), &folder);
            app.run(|_, _| {});
        }
        Err(e) => {
            eprintln!("Airwright cannot start: {e}");
            std::process::exit(1);
        }
    }
}
