// What every place may need, handed down by the page.
import { createContext } from 'svelte';
import type { JobsList } from './jobs.svelte';
import type { Taking } from './taking.svelte';
import type { Workspace } from './workspace.svelte';

/** The list of jobs: `const list = jobs()`. */
export const [jobs, setJobs] = createContext<JobsList>();
/** The open job, seen from a place: a job that is changed from there is read again. */
export const [workspace, setWorkspace] = createContext<Workspace>();
/** Job files that come in, from wherever: `taking().take(file)`. */
export const [taking, setTaking] = createContext<Taking>();
