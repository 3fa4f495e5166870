// Every word that the interface says, in English. One file to a room, so that a file has one subject; keys begin
// with the file's name. What the backend says (findings, steps, cautions, papers) comes as text from there.
import { booksTexts } from './en/books';
import { brief } from './en/brief';
import { chance } from './en/chance';
import { clash } from './en/clash';
import { clusters } from './en/clusters';
import { day } from './en/day';
import { design } from './en/design';
import { enquiry } from './en/enquiry';
import { files } from './en/files';
import { frame } from './en/frame';
import { hands } from './en/hands';
import { jobsTexts } from './en/jobs';
import { live } from './en/live';
import { load } from './en/load';
import { make } from './en/make';
import { mishap } from './en/mishap';
import { money } from './en/money';
import { own } from './en/own';
import { papers } from './en/papers';
import { parts } from './en/parts';
import { photo } from './en/photo';
import { pieces } from './en/pieces';
import { rates } from './en/rates';
import { site } from './en/site';
import { times } from './en/times';
import { view } from './en/view';
import { whatif } from './en/whatif';

export const en = { ...booksTexts, ...brief, ...chance, ...clash, ...clusters, ...day, ...design, ...enquiry, ...files, ...frame, ...hands, ...jobsTexts, ...live, ...load, ...make, ...mishap, ...money, ...own, ...papers, ...parts, ...photo, ...pieces, ...rates, ...site, ...times, ...view, ...whatif } as const;
