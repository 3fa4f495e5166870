// The books that jobs copy from: read once, kept up to date by every edit made here.
import { call, type Book, type Books, type Edit, type Fault, type Finding } from '../desk';
import { t } from '../texts/t';
import { asFault } from './job.svelte';
import { undoStrip } from './undo.svelte';

/** The books as the page knows them. */
export class BooksState {
  /** null before they were read */
  all = $state.raw<Books | null>(null);
  findings = $state.raw<Finding[]>([]);
  /** why they could not be read, or an edit was not kept; null after the next success */
  fault = $state.raw<Fault | null>(null);

  /** Reads them; later calls read again. */
  async load(): Promise<void> {
    await this.#try(async () => {
      const view = await call('open_books');
      this.all = view.books;
      this.findings = view.findings;
    });
  }

  /** Makes edits of one book, all or none. Answers whether they are on disk. */
  edit(book: Book, edits: Edit[], label: string, quiet = false): Promise<boolean> {
    return this.#try(async () => {
      const before = undoStrip.said;
      this.all = (await call('edit_book', { book, label, edits })).books;
      if (!quiet) undoStrip.say(label, { label: t('frame.undo'), run: () => void this.undo(book) });
      else undoStrip.outdate(before);
    });
  }

  /** Sets one field of a book. */
  set(book: Book, path: string[], value: unknown, label: string): Promise<boolean> {
    return this.edit(book, [{ op: 'set', part: 'job', path, value } as Edit], label, true);
  }

  /** Takes back the last edit of a book. */
  undo(book: Book): Promise<boolean> {
    return this.#try(async () => {
      this.all = (await call('undo_book', { book })).books;
    });
  }

  async #try(work: () => Promise<void>): Promise<boolean> {
    try {
      await work();
      this.fault = null;
      return true;
    } catch (thrown) {
      this.fault = asFault(thrown);
      return false;
    }
  }
}

export const books = new BooksState();
