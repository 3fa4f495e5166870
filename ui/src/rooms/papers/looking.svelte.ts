// A paper that is looked at before it is printed, saved or handed on. The address says that one is (`look` after the tab),
// so that the device's own way back closes it; what it is made from is kept here.
import { computeBytes, type Bill, type Content, type Fault, type MakeBillPaper, type MakePaper, type PaperMade } from '../../desk';
import { asFault } from '../../state/job.svelte';
import { sheetSize } from './paper-args';

/** The last word of the address while a paper is looked at. */
export const LOOK = 'look';

/** What is asked for one paper. */
export type Question = { command: 'paper'; args: MakePaper } | { command: 'bill_paper'; args: MakeBillPaper };

/** A paper to look at. */
export interface Asked {
  title: string;
  /** read anew when what it is made from changes; null while that is itself being made */
  ask: () => Question | null;
  /** it says the price of the job as it is now: what that leaves out is said beside it */
  prices: boolean;
}

/** The question for a bill on paper. */
export const billArgs = (bill: Bill): MakeBillPaper => ({ bill, size: sheetSize(), language: 'en-GB', made_ms: Date.now() });

/** What is looked at, and where the focus goes afterwards. */
class Looking {
  at = $state.raw<Asked | null>(null);
  #from: Element | null = null;

  begin(asked: Asked) {
    this.#from = document.activeElement;
    this.at = asked;
  }

  end() {
    this.at = null;
    if (this.#from instanceof HTMLElement) this.#from.focus();
    this.#from = null;
  }
}
export const looking = new Looking();

/** A paper as it was made, with its pages for the screen. */
export interface Seen {
  answer: PaperMade;
  body: Content;
  size: MakePaper['size'];
}

/** One paper on the screen, made anew whenever its job changes. */
export class PaperSeen {
  seen = $state.raw<Seen | null>(null);
  making = $state(false);
  fault = $state.raw<Fault | null>(null);

  /** Makes it; the answer stops that. The old pages stay until the new ones are there, but are not to be printed. */
  make(question: Question | null): (() => void) | undefined {
    this.making = true;
    this.fault = null;
    if (!question) return undefined;
    const stop = new AbortController();
    void this.#made(question, stop.signal);
    return () => stop.abort();
  }

  async #made(question: Question, signal: AbortSignal) {
    try {
      const made =
        question.command === 'paper'
          ? await computeBytes('paper', { ...question.args, show: true }, undefined, signal)
          : await computeBytes('bill_paper', { ...question.args, show: true }, undefined, signal);
      if (signal.aborted) return;
      this.seen = { ...made, size: question.args.size };
    } catch (thrown) {
      if (signal.aborted) return;
      this.fault = asFault(thrown);
    }
    this.making = false;
  }
}

/** Millimetres of a sheet. */
export const SHEETS = { a4: [210, 297], letter: [215.9, 279.4] } as const;

/** The printer takes pages of a size to the edge while this stands; the answer ends it. */
export function pageSize(size: Seen['size']): () => void {
  const rule = new CSSStyleSheet();
  const [wide, high] = SHEETS[size];
  rule.replaceSync(`@page { size: ${wide}mm ${high}mm; margin: 0; }`);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, rule];
  return () => (document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== rule));
}

/** Sizes on the screen: of the width that there is, or of a page at a comfortable width. */
export const ZOOMS = [0.5, 0.75, 1, 1.5, 2, 3] as const;

