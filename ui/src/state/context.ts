// What every place may need, handed down by the page.
import { createContext } from 'svelte';
import type { JobsList } from './jobs.svelte';

/** The list of jobs: `const list = jobs()`. */
export const [jobs, setJobs] = createContext<JobsList>();
