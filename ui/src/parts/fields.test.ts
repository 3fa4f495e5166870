import { createRawSnippet, flushSync, tick } from 'svelte';
import { beforeEach, describe, expect, test, vi } from 'vitest';
import { lengths } from '../format/quantity';
import DateTimeField from './DateTimeField.svelte';
import MixBar from './MixBar.svelte';
import NumberField from './NumberField.svelte';
import Segmented from './Segmented.svelte';
import Select from './Select.svelte';
import TextField from './TextField.svelte';
import { loose, one, press, show, write } from './shown.testing';
import Toggle from './Toggle.svelte';

describe('number field', () => {
  const field = (more = {}) => {
    const onchange = vi.fn();
    show(NumberField, { label: 'Path', value: 5400, quantity: lengths('metric'), min: 300, max: 50000, onchange, ...more });
    return { onchange, input: one<HTMLInputElement>('input') };
  };

  test('shows the figure and its unit, and is named by its label', () => {
    const { input } = field();
    expect(input.value).toBe('5.4');
    expect(input.getAttribute('aria-valuetext')).toBe('5.4\u00a0m');
    expect(one('label').textContent).toBe('Path');
    expect([...document.querySelectorAll('button')].map((b) => b.getAttribute('aria-label'))).toEqual(['Path, less', 'Path, more']);
  });
  test('what is typed is passed on when the field is left', () => {
    const { input, onchange } = field();
    write(input, '5 ft 6');
    expect(onchange).not.toHaveBeenCalled();
    input.dispatchEvent(new FocusEvent('blur'));
    expect(onchange).toHaveBeenCalledExactlyOnceWith(1676);
  });
  test('170 is out of range as metres, so it is centimetres', () => {
    const { input, onchange } = field();
    write(input, '170');
    press(input, 'Enter');
    expect(onchange).toHaveBeenCalledExactlyOnceWith(1700);
  });
  test('out of range: said beneath, not passed on, what was typed stays', () => {
    const { input, onchange } = field();
    write(input, '900 m');
    press(input, 'Enter');
    expect(onchange).not.toHaveBeenCalled();
    expect(one('p').textContent).toBe('From 0.3 to 50\u00a0m.');
    expect(input.getAttribute('aria-invalid')).toBe('true');
    expect(input.value).toBe('900 m');
    press(input, 'Escape');
    expect([input.value, one('p').textContent]).toEqual(['5.4', '']);
  });
  test('no number at all is said so', () => {
    const { input } = field();
    write(input, 'long');
    press(input, 'Enter');
    expect(one('p').textContent).toBe('“long” cannot be read as a number.');
  });
  test('arrows step, at the ends they stop', () => {
    const { input, onchange } = field({ value: 49990 });
    press(input, 'ArrowUp');
    expect(onchange).toHaveBeenLastCalledWith(50000);
    press(input, 'PageDown');
    expect(onchange).toHaveBeenLastCalledWith(49500);
  });
  test('a value that comes out of range is shown with its range', () => {
    field({ value: 10 });
    expect(one('p').textContent).toBe('From 0.3 to 50\u00a0m.');
    expect(one<HTMLButtonElement>('button').disabled).toBe(true);
  });
  test('held, plus goes on; the owner is told once, at the end', () => {
    vi.useFakeTimers();
    const onpreview = vi.fn();
    const { onchange } = field({ onpreview });
    const more = one<HTMLButtonElement>('button[aria-label="Path, more"]');
    more.dispatchEvent(new MouseEvent('pointerdown', { button: 0, bubbles: true }));
    vi.advanceTimersByTime(400 + 90 + 90 + 5);
    more.dispatchEvent(new MouseEvent('pointerup', { bubbles: true }));
    expect(onpreview.mock.calls.map((c) => c[0])).toEqual([5450, 5500, 5550, 5600]);
    expect(onchange).toHaveBeenCalledExactlyOnceWith(5600);
  });
  test('while the owner has not answered, the new value stands', async () => {
    let answer = () => {};
    const { input } = field({ onchange: () => new Promise<void>((r) => (answer = r)) });
    press(input, 'ArrowUp');
    expect(input.value).toBe('5.45');
    answer();
    await tick();
    await tick();
    flushSync();
    // the owner kept the old value: the field shows what is true
    expect(input.value).toBe('5.4');
  });
});

describe('other fields', () => {
  const onchange = vi.fn();
  beforeEach(() => void onchange.mockReset());

  test('a text is passed on when it is left, not at every key', () => {
    show(TextField, { label: 'Client', value: 'Ines', onchange });
    const input = one<HTMLInputElement>('input');
    write(input, 'Ines H');
    expect(onchange).not.toHaveBeenCalled();
    input.dispatchEvent(new Event('change', { bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith('Ines H');
  });
  test('escape gives the text back', () => {
    show(TextField, { label: 'Client', value: 'Ines', onchange });
    const input = one<HTMLInputElement>('input');
    write(input, 'x');
    press(input, 'Escape');
    input.dispatchEvent(new Event('change', { bubbles: true }));
    expect(input.value).toBe('Ines');
    expect(onchange).not.toHaveBeenCalled();
  });
  test('a choice that this version does not know is kept until another is chosen', () => {
    show(loose(Select), {
      label: 'Place',
      value: 'newer',
      options: [
        { value: 'indoors', label: 'Indoors' },
        { value: 'open', label: 'In the open' },
      ],
      onchange,
    });
    const select = one<HTMLSelectElement>('select');
    expect([...select.options].map((o) => o.value)).toEqual(['newer', 'indoors', 'open']);
    expect(select.value).toBe('newer');
    select.selectedIndex = 2;
    select.dispatchEvent(new Event('change', { bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith('open');
  });
  test('a day waits for its time; a time alone is meant for the likely day', () => {
    show(DateTimeField, { label: 'Load-in', value: '', likelyDay: '2027-06-12', onchange });
    const [day, time] = document.querySelectorAll('input') as unknown as [HTMLInputElement, HTMLInputElement];
    const set = (e: HTMLInputElement, v: string) => {
      e.value = v;
      e.dispatchEvent(new Event('change', { bubbles: true }));
      flushSync();
    };
    set(day, '0202-06-13'); // on the way to 2027
    set(day, '2027-06-13');
    expect(onchange).not.toHaveBeenCalled();
    set(time, '10:30');
    expect(onchange).toHaveBeenCalledExactlyOnceWith('2027-06-13T10:30');
  });
  test('a time alone', () => {
    show(DateTimeField, { label: 'Load-in', value: '', likelyDay: '2027-06-12', onchange });
    const time = one<HTMLInputElement>('input[type="time"]');
    time.value = '08:00';
    time.dispatchEvent(new Event('change', { bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith('2027-06-12T08:00');
  });
  test('the likely day stands in an empty field, so that the day of the load-in is not entered five times', () => {
    show(DateTimeField, { label: 'Ready by', value: '', likelyDay: '2027-06-12', onchange });
    const [day, time] = document.querySelectorAll('input') as unknown as [HTMLInputElement, HTMLInputElement];
    expect([day.value, day.classList.contains('likely')]).toEqual(['2027-06-12', true]);
    expect(onchange).not.toHaveBeenCalled();
    time.value = '14:00';
    time.dispatchEvent(new Event('change', { bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith('2027-06-12T14:00');
  });
  test('a toggle is a switch', () => {
    show(Toggle, { label: 'Strong sun', value: false, onchange });
    const box = one<HTMLInputElement>('input[role="switch"]');
    box.click();
    expect(onchange).toHaveBeenCalledExactlyOnceWith(true);
  });
  test('of segments one is chosen', () => {
    show(loose(Segmented), {
      label: 'View',
      value: 'front',
      options: [
        { value: 'front', label: 'Front' },
        { value: 'side', label: 'Side' },
      ],
      onchange,
    });
    one<HTMLInputElement>('input[value="side"]').click();
    expect(onchange).toHaveBeenCalledExactlyOnceWith('side');
  });
  test('the mix: arrows move a border, a number makes the others give way', () => {
    const parts = [
      { id: 'a', name: 'Old rose', srgb: '#d9798a', pattern: 'hatched' as const, share: 50 },
      { id: 'b', name: 'Ivory', srgb: '#f3ead8', pattern: 'plain' as const, share: 30 },
      { id: 'c', name: 'Sage', srgb: '#a9b89a', pattern: 'dotted' as const, share: 20 },
    ];
    show(MixBar, { label: 'Palette', parts, onchange });
    const border = one('[role="slider"]');
    expect(border.getAttribute('aria-valuetext')).toBe('Old rose 50 %, Ivory 30 %');
    press(border, 'ArrowRight');
    expect(onchange).toHaveBeenLastCalledWith([51, 29, 20]);
    const number = one<HTMLInputElement>('input');
    write(number, '60');
    press(number, 'Enter');
    expect(onchange).toHaveBeenLastCalledWith([60, 24, 16]);
  });
  test('a colour stands once: its row unfolds what else belongs to it, and pressing its number folds nothing', () => {
    const parts = ['Ivory', 'Sage'].map((name, i) => ({ id: String(i), name, srgb: '#a9b89a', pattern: 'plain' as const, share: 50 }));
    const under = createRawSnippet((i: () => number) => ({ render: () => `<p class="more">of ${i()}</p>` }));
    show(MixBar, { label: 'Palette', parts, onchange, under });
    expect([...document.querySelectorAll('.name')].map((e) => e.textContent)).toEqual(['Ivory', 'Sage']);
    expect([...document.querySelectorAll('details')].map((d) => [d.querySelector('summary .name')?.textContent, d.querySelector('.more')?.textContent])).toEqual([['Ivory', 'of 0'], ['Sage', 'of 1']]);
    expect(document.querySelector('summary input')).toBe(null);
  });
});
