//! A small server of static files for this computer alone. What a public host has to send is in README.
use std::io::{BufRead, BufReader, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::command::Done;

/// A browser keeps the jobs by address and port, so the port stays the same from day to day.
const PORT: u16 = 4170;
/// Ports that are tried when that one is taken.
const TRIES: u16 = 10;
/// A browser that says nothing for so long is hung up on.
const PATIENCE: Duration = Duration::from_secs(10);

const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; worker-src 'self'; \
    manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// Serves the folder until the program is ended.
pub fn serve(dir: &Path) -> Done {
    let listener = listen()?;
    let port = listener.local_addr()?.port();
    println!("\nAirwright is at http://localhost:{port}/  (Ctrl+C ends the server)");
    if port != PORT {
        println!("Port {PORT} was taken. Jobs that were made there are not shown at this address.");
    }
    for stream in listener.incoming() {
        let Ok(stream) = stream else { continue };
        let dir = dir.to_path_buf();
        // a browser that hangs up in the middle is no error of ours
        std::thread::spawn(move || answer(stream, &dir).ok());
    }
    Ok(())
}

fn listen() -> Done<TcpListener> {
    for port in PORT..PORT + TRIES {
        if let Ok(listener) = TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
            return Ok(listener);
        }
    }
    Err(format!("the ports {PORT} to {} are all taken", PORT + TRIES - 1).into())
}

/// One request, then the connection is closed.
fn answer(mut stream: TcpStream, dir: &Path) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    let mut lines = BufReader::new(&stream).lines();
    let first = lines.next().transpose()?.unwrap_or_default();
    // the headers are read to their end, or the browser sees a reset connection
    while lines.next().transpose()?.is_some_and(|l| !l.is_empty()) {}
    let (status, kind, body) = match request(&first) {
        Some((head_only, path)) => match file(dir, &path) {
            Some((kind, bytes)) => ("200 OK", kind, (bytes, head_only)),
            None => (
                "404 Not Found",
                "text/plain",
                (b"not here".to_vec(), head_only),
            ),
        },
        None => ("405 Method Not Allowed", "text/plain", (Vec::new(), false)),
    };
    let (bytes, head_only) = body;
    write!(
        stream,
        "HTTP/1.1 {status}\r\ncontent-type: {kind}\r\ncontent-length: {}\r\ncache-control: no-cache\r\n\
         content-security-policy: {POLICY}\r\nx-content-type-options: nosniff\r\nconnection: close\r\n\r\n",
        bytes.len()
    )?;
    if !head_only {
        stream.write_all(&bytes)?;
    }
    stream.flush()
}

/// `GET /a%20b?c HTTP/1.1` → not the head alone, `/a b`.
fn request(line: &str) -> Option<(bool, String)> {
    let mut words = line.split(' ');
    let head_only = match words.next()? {
        "GET" => false,
        "HEAD" => true,
        _ => return None,
    };
    let path = words.next()?.split(['?', '#']).next()?;
    let mut bytes = Vec::new();
    let mut rest = path.bytes();
    while let Some(b) = rest.next() {
        bytes.push(match b {
            b'%' => {
                let digits = [rest.next()?, rest.next()?];
                u8::from_str_radix(std::str::from_utf8(&digits).ok()?, 16).ok()?
            }
            _ => b,
        });
    }
    Some((head_only, String::from_utf8(bytes).ok()?))
}

/// The file of this path and its media type. Only plain names are followed: nothing climbs out of the folder.
fn file(dir: &Path, path: &str) -> Option<(&'static str, Vec<u8>)> {
    let mut to = PathBuf::from(dir);
    for part in path.split('/').filter(|p| !p.is_empty()) {
        if part.starts_with('.') || part.contains(['\\', ':', '\0']) {
            return None;
        }
        to.push(part);
    }
    if to.is_dir() {
        to.push("index.html");
    }
    let kind = match to.extension()?.to_str()? {
        "html" => "text/html; charset=utf-8",
        "js" => "text/javascript",
        "css" => "text/css",
        "wasm" => "application/wasm",
        "json" => "application/json",
        "webmanifest" => "application/manifest+json",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "jpg" => "image/jpeg",
        "woff2" => "font/woff2",
        "ttf" => "font/ttf",
        _ => "application/octet-stream",
    };
    Some((kind, std::fs::read(to).ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn requests_are_read() {
        let get = |path: &str| Some((false, path.to_string()));
        assert_eq!(request("GET / HTTP/1.1"), get("/"));
        assert_eq!(request("GET /a%20b.js?v=1 HTTP/1.1"), get("/a b.js"));
        assert_eq!(request("HEAD /x HTTP/1.1"), Some((true, "/x".into())));
        assert_eq!(request("POST / HTTP/1.1"), None);
        assert_eq!(request("GET /%zz HTTP/1.1"), None);
        assert_eq!(request(""), None);
    }

    #[test]
    fn nothing_outside_the_folder_is_given_away() {
        let dir = std::env::temp_dir().join(format!("airwright-serve-{}", std::process::id()));
        std::fs::create_dir_all(dir.join("inside")).unwrap();
        std::fs::write(dir.join("secret.js"), "s").unwrap();
        std::fs::write(dir.join("inside/index.html"), "page").unwrap();
        let inside = dir.join("inside");
        assert_eq!(
            file(&inside, "/"),
            Some(("text/html; charset=utf-8", b"page".to_vec()))
        );
        for path in [
            "/../secret.js",
            "/..\\secret.js",
            "/.git/config",
            "/gone.js",
        ] {
            assert_eq!(file(&inside, path), None, "{path}");
        }
        std::fs::remove_dir_all(dir).unwrap();
    }
}
