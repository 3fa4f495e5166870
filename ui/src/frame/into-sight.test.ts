// @vitest-environment jsdom
// "See Times" among the findings while Times is open: the finding's row is brought into sight, not only the list shut.
import { expect, test, vi } from 'vitest';
import { bringIntoSight } from './into-sight';

const finding = (message: string) => {
  const row = document.createElement('div');
  Object.assign(row, { tabIndex: -1, scrollIntoView: vi.fn() });
  row.dataset['finding'] = message;
  return row;
};

test('the row with the message gets the sight and the focus, once its room is there', async () => {
  document.body.innerHTML = '<main></main>';
  const main = document.querySelector('main') as HTMLElement;
  const [other, wanted] = [finding('Ben: 9 h 13'), finding('Ada: more than 6 h')];
  main.append(other);
  let room = 'brief';
  const found = bringIntoSight('Ada: more than 6 h', () => room === 'times');
  setTimeout(() => main.append(wanted), 120);
  setTimeout(() => (room = 'times'), 200);
  expect(await found).toBe(true);
  expect(room).toBe('times');
  expect(wanted.scrollIntoView).toHaveBeenCalledOnce();
  expect(document.activeElement).toBe(wanted);
  expect(other.scrollIntoView).not.toHaveBeenCalled();
});

test('without a row the room stays as it is', async () => {
  document.body.innerHTML = '<main></main>';
  vi.useFakeTimers();
  const found = bringIntoSight('gone', () => true);
  await vi.runAllTimersAsync();
  expect(await found).toBe(false);
  vi.useRealTimers();
});
