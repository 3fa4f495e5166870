// Every word that the interface says, in English. One file to a room, so that a file has one subject; keys begin
// with the file's name. What the backend says (findings, steps, cautions, papers) comes as text from there.
import { design } from './en/design';
import { frame } from './en/frame';
import { parts } from './en/parts';

export const en = { ...design, ...frame, ...parts } as const;
