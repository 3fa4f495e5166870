// Bills of the open job: made from it, given a number, saved.
import { call, compute, computeBytes, type Bill, type BillKind, type BillNumbers, type CreditLine, type CreditPart, type Fault, type Finding } from '../../desk';
import { wallNow } from '../../format/time';
import { books } from '../../state/books.svelte';
import { asFault, type OpenJob } from '../../state/job.svelte';
import { add, freshId, remove, set } from '../../state/lists';
import { settings } from '../../state/settings.svelte';
import { router, toRoom } from '../../state/router.svelte';
import { undoStrip } from '../../state/undo.svelte';
import { t } from '../../texts/t';
import { LOOK, billArgs, looking } from './looking.svelte';
import { Saving } from './saving.svelte';

/** What a bill is called: its number, or that it has none yet. */
const billName = (bill: Bill) => bill.number || t('money.draft', { kind: t(`money.${bill.kind}`) });

/** A bill that has no number yet. */
export interface Draft {
  bill: Bill;
  findings: Finding[];
  /** what can be given back line by line, of a credit note */
  lines: CreditLine[];
  instalment: string;
  of: string;
  /** lines that a part is given back of; none is the whole */
  part: CreditPart[];
  /** id of the draft that the job keeps; empty while it keeps none */
  kept: string;
}

/** The bills of one open job. */
export class Billing {
  draft = $state.raw<Draft | null>(null);
  numbers = $state.raw<BillNumbers | null>(null);
  fault = $state.raw<Fault | null>(null);
  making = $state.raw<BillKind | null>(null);
  readonly saving = new Saving();

  constructor(private open: OpenJob) {}

  /** Which numbers come next, and whether this device gives them out. */
  ask = () =>
    this.#try(async () => {
      this.numbers = await call('bill_numbers');
    });

  /** This device gives out the numbers from now on. */
  nameThis = () =>
    this.#try(async () => {
      const { device } = await call('about');
      if (await books.set('settings', ['own', 'issuer'], device, t('money.name_this'))) undoStrip.say(t('money.named'));
      this.numbers = await call('bill_numbers');
    });

  /** A bill of the job as it is now. */
  make(kind: BillKind, { instalment = '', of = '', part = [], kept = '' }: Partial<Omit<Draft, 'bill' | 'findings' | 'lines'>> = {}) {
    return this.#try(async () => {
      if (!books.all) await books.load();
      const priv = this.open.priv;
      const own = books.all?.own;
      if (!priv || !own) return;
      this.making = kind;
      try {
        const day = wallNow(new Date()).slice(0, 10);
        let job, made;
        // a job that changes meanwhile has it made once more: what is shown may be issued
        do {
          ({ job } = this.open);
          made = await compute('bill', { job, private: this.open.priv ?? priv, own, kind, instalment, of, part, day });
        } while (job !== this.open.job);
        this.draft = { ...made, instalment, of, part, kept };
      } finally {
        this.making = null;
      }
    });
  }

  /** The same bill of the job as it is by now; meanwhile the old one is not there to be issued. */
  follow = () => {
    const draft = this.draft;
    this.draft = null;
    if (draft) void this.make(draft.bill.kind, draft);
  };

  /** The job keeps the draft, for the device that gives out numbers. */
  async keep() {
    const draft = this.draft;
    if (!draft) return;
    const { bill, instalment, of } = draft;
    const part = draft.part.length > 0 ? JSON.stringify(draft.part) : '';
    const said = { part, content: JSON.stringify(bill), by: settings.who, at_ms: Date.now() };
    const id = draft.kept || freshId();
    const edits = draft.kept
      ? Object.entries(said).map(([field, value]) => set(['bills', id, field], value, 'private'))
      : [add(['bills'], id, { kind: bill.kind, instalment, of, ...said }, 'private')];
    // the job changes by this, and the draft follows it under its new id
    this.draft = { ...draft, kept: id };
    if (!(await this.open.edit(edits, t('money.draft_kept'))) && this.draft?.kept === id) this.draft = draft;
  }

  /** A draft is taken off the list. */
  async drop(id: string) {
    if (this.draft?.kept === id) this.draft = null;
    await this.open.edit([remove(['bills'], id, 'private')], t('money.draft_dropped'));
  }

  /** The draft gets its number. */
  issue() {
    const draft = this.draft;
    return this.#try(async () => {
      if (!draft) return;
      const before = new Set(Object.keys(this.open.priv?.bills ?? {}));
      const { view } = await call('issue_bill', { id: this.open.id, bill: draft.bill, instalment: draft.instalment, of: draft.of, draft: draft.kept });
      this.open.accept(view);
      this.draft = null;
      const id = Object.keys(view.private?.bills ?? {}).find((one) => !before.has(one));
      undoStrip.say(t('money.issued', { number: (id && view.private?.bills[id]?.number) || '' }));
      this.numbers = await call('bill_numbers');
    });
  }

  /** Saves a bill as PDF, or for programs. */
  save(bill: Bill, command: 'bill_paper' | 'bill_xml') {
    return this.saving.save(billName(bill), async (signal) => {
      const { answer, body } = await computeBytes(command, billArgs(bill), undefined, signal);
      return { name: answer.name, mime: answer.mime, body };
    });
  }

  /** Shows a bill as its pages; a draft as it is by then. */
  look(bill: Bill, draft = false) {
    const now = () => (draft ? (this.draft?.bill ?? null) : bill);
    const ask = () => {
      const it = now();
      return it && { command: 'bill_paper' as const, args: billArgs(it) };
    };
    looking.begin({ title: billName(bill), ask, prices: draft });
    router.go(toRoom(this.open.id, 'papers', 'bills', LOOK));
  }

  async #try(work: () => Promise<void>): Promise<void> {
    try {
      await work();
      this.fault = null;
    } catch (thrown) {
      this.fault = asFault(thrown);
    }
  }
}
