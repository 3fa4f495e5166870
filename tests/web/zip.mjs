// Zip files of stored entries, as job files are: read and written with nothing but Node.
import { crc32 } from 'node:zlib';

/** Name to bytes. */
export function unzip(bytes) {
  const file = Buffer.from(bytes);
  const end = file.lastIndexOf(Buffer.from('PK\x05\x06', 'latin1'));
  const entries = new Map();
  let at = file.readUInt32LE(end + 16);
  for (let i = file.readUInt16LE(end + 10); i > 0; i--) {
    const [method, size, name, extra, comment, start] = [file.readUInt16LE(at + 10), file.readUInt32LE(at + 24), file.readUInt16LE(at + 28), file.readUInt16LE(at + 30), file.readUInt16LE(at + 32), file.readUInt32LE(at + 42)];
    if (method !== 0) throw new Error('an entry is compressed');
    const data = start + 30 + file.readUInt16LE(start + 26) + file.readUInt16LE(start + 28);
    entries.set(file.toString('utf8', at + 46, at + 46 + name), file.subarray(data, data + size));
    at += 46 + name + extra + comment;
  }
  return entries;
}

export function zip(entries) {
  const parts = [];
  const directory = [];
  let at = 0;
  for (const [name, bytes] of entries) {
    const title = Buffer.from(name);
    const head = Buffer.alloc(26); // from "version needed" to "extra length", the same in both places
    head.writeUInt16LE(20, 0);
    head.writeUInt16LE(33, 8); // 1 January 1980
    head.writeUInt32LE(crc32(bytes), 10);
    head.writeUInt32LE(bytes.length, 14);
    head.writeUInt32LE(bytes.length, 18);
    head.writeUInt16LE(title.length, 22);
    parts.push(Buffer.from('PK\x03\x04', 'latin1'), head, title, bytes);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(at, 10);
    directory.push(Buffer.from('PK\x01\x02\x14\x00', 'latin1'), head, tail, title);
    at += 30 + title.length + bytes.length;
  }
  const list = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(entries.size, 8);
  end.writeUInt16LE(entries.size, 10);
  end.writeUInt32LE(list.length, 12);
  end.writeUInt32LE(at, 16);
  return Buffer.concat([...parts, list, end]);
}
