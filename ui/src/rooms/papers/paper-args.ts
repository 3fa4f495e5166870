// What a paper is made from: the open job as it is now, and how this device reads and writes.
import type { MakePaper, Own, PaperKind } from '../../desk';
import type { OpenJob } from '../../state/job.svelte';
import { settings } from '../../state/settings.svelte';
import { sheet } from './saving.svelte';

/** The sheet that was chosen; the units of the device say it where nobody chose. */
export const sheetSize = () => sheet.size ?? (settings.units === 'us' ? 'letter' : 'a4');

/** The question for one paper of a job. */
export function paperArgs(kind: PaperKind, open: OpenJob, own: Own): MakePaper {
  return {
    kind,
    job: open.job,
    private: open.priv,
    signatures: open.signatures,
    own,
    size: sheetSize(),
    language: 'en-GB',
    made_ms: Date.now(),
    us_units: settings.units === 'us',
    twelve_hours: settings.clock === '12h',
  };
}
