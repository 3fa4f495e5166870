import { describe, expect, test } from 'vitest';
import type { Finding, Live, LiveTask, Plan } from '../desk';
import { causesOnly, findingsNow, leaveMs, running, toldNow, wholeLate } from './today';
import { readingOf, tapeFigures } from './reading';

const HOUR = 3_600_000;
const NOW = Date.UTC(2027, 5, 12, 8);
const went = (task: string, start: number, more: Partial<LiveTask> = {}): LiveTask => ({ task, going: 'to_come', done_pm: 0, start_ms: start, end_ms: start + HOUR, late_s: 0, moves: false, ...more });
const day = (more: Partial<Live> = {}): Live => ({
  now_ms: NOW,
  begun: false,
  running: true,
  over: false,
  finish_ms: NOW + 5 * HOUR,
  planned_ms: NOW + 3 * HOUR,
  ready_ms: NOW + 4 * HOUR,
  late_s: 3600,
  without: [],
  tasks: [went('check', NOW, { late_s: 9 * 3600, moves: true }), went('drive', NOW + HOUR, { late_s: 9 * 3600, moves: true })],
  next: [],
  causes: [{ task: 'check', title: 'Check', why: 'not_begun', at_ms: NOW - 9 * HOUR, late_s: 9 * 3600, moves: true }],
  ...more,
});
const finding = (code: string): Finding => ({ code, severity: 'stop', room: 'times', path: [], message: code, action: '', fixes: [] });
const task = (id: string, start: number) => ({ id, phase: 'load', start_ms: start, end_ms: start + HOUR, slack_s: 0, early_ms: start, late_ms: start });
const plan = {
  figures: { balloons: 3, garland_mm: 1000, start_by_ms: NOW - 9 * HOUR, leave_by_ms: NOW - HOUR, volume_ml: 1000, price_cents: null, currency: null },
  findings: [],
  why: {},
  tasks: [task('check', NOW - 9 * HOUR), task('drive', NOW - HOUR)],
} as unknown as Plan;

describe('a day that goes', () => {
  test('one answer: the tape says when all is ready and how late, and no start that has passed', () => {
    const how = readingOf({ venue: { zone: 'UTC' }, times: { ready_by: '2027-06-12T12:00' } } as never, null, { units: 'metric', clock: '24h' });
    const said = (d: Live | null) => tapeFigures(plan, how, d).map((f) => `${f.figure} ${f.word}`.replaceAll('\u00a0', ' '));
    expect(said(day())).toEqual(expect.arrayContaining(['13:00 ready, 1 h late', '09:00 leave at']));
    expect(said(day()).join()).not.toMatch(/start by|leave by/);
    expect(said(day({ running: false })).join()).toMatch(/start by.*leave by/);
    expect(said(day({ over: true })).join()).toMatch(/start by/);
    expect(running(day({ over: true }))).toBeNull();
  });

  test('how late it will be is a finding, and takes the place of those of the planned times', () => {
    const all = [finding('load_in_too_late'), finding('no_time'), finding('needs_two')];
    expect(findingsNow(all, day(), 'UTC', '24h').map((f) => f.code)).toEqual(['late_today', 'needs_two']);
    expect(findingsNow(all, day({ late_s: 0 }), 'UTC', '24h').map((f) => f.code)).toEqual(['needs_two']);
    for (const d of [null, day({ running: false })]) expect(findingsNow(all, d, 'UTC', '24h')).toEqual(all);
  });

  test('the bars stand where they are told now, and only what is late by itself says so', () => {
    const told = toldNow(plan, day());
    expect(told.tasks.map((x) => [x.id, x.start_ms, x.slack_s])).toEqual([['check', NOW, null], ['drive', NOW + HOUR, null]]);
    expect([told.figures.start_by_ms, told.figures.leave_by_ms]).toEqual([null, NOW + HOUR]);
    expect(leaveMs(plan, day({ tasks: [went('drive', NOW, { going: 'done' })] }))).toBeNull();
    expect(causesOnly(day()).tasks.map((x) => x.late_s)).toEqual([9 * 3600, 0]);
  });

  test('minutes late are those between the clock times that stand beside them', () => {
    // agreed 16:00:00; ready 16:44:43 and 16:44:20 are both shown as 16:44, 15:59:30 as 15:59
    expect([44 * 60 + 43, 44 * 60 + 20, 59, 0, -30].map(wholeLate)).toEqual([44, 44, 0, 0, -1]);
  });
});
