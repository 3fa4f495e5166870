import { flushSync } from 'svelte';
import { describe, expect, test, vi } from 'vitest';
import ChoiceGrid from './ChoiceGrid.svelte';
import Slider from './Slider.svelte';
import { all, loose, one, press, show } from './shown.testing';

describe('slider', () => {
  const slider = (more = {}) => {
    const [onchange, onpreview] = [vi.fn(), vi.fn()];
    show(Slider, { label: 'Share of 11 in', value: 65, say: (v: number) => `${v} %`, onchange, onpreview, ...more });
    return { onchange, onpreview, input: one<HTMLInputElement>('input[type="range"]') };
  };
  const drag = (input: HTMLInputElement, to: number) => {
    input.value = String(to);
    input.dispatchEvent(new Event('input', { bubbles: true }));
    flushSync();
  };

  test('is named, and says its value in words', () => {
    const { input } = slider();
    expect(one('label').textContent).toBe('Share of 11 in');
    expect([input.value, input.getAttribute('aria-valuetext'), one('output').textContent]).toEqual(['65', '65 %', '65 %']);
  });
  test('dragged, it shows each value and tells the last one once', () => {
    const { input, onchange, onpreview } = slider();
    [70, 74, 80].forEach((v) => drag(input, v));
    expect(onchange).not.toHaveBeenCalled();
    expect(onpreview.mock.calls.map((c) => c[0])).toEqual([70, 74, 80]);
    expect(one('output').textContent).toBe('80 %');
    input.dispatchEvent(new Event('change', { bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith(80);
  });
  test('a held key tells once, when it comes up', () => {
    const { input, onchange } = slider();
    for (const v of [66, 67, 68]) {
      input.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowRight', bubbles: true }));
      drag(input, v);
      input.dispatchEvent(new Event('change', { bubbles: true }));
    }
    expect(onchange).not.toHaveBeenCalled();
    input.dispatchEvent(new KeyboardEvent('keyup', { key: 'ArrowRight', bubbles: true }));
    expect(onchange).toHaveBeenCalledExactlyOnceWith(68);
  });
  test('left where it was, nobody is told', () => {
    const { input, onchange } = slider();
    drag(input, 70);
    drag(input, 65);
    input.dispatchEvent(new Event('change', { bubbles: true }));
    press(input, 'Tab');
    expect(onchange).not.toHaveBeenCalled();
  });
});

test('a grid of choices is a group of radios, each with its word', () => {
  const onchange = vi.fn();
  const options = ['Straight', 'Arch', 'Swag'].map((label) => ({ value: label.toLowerCase(), label, line: 'M4 16H44' }));
  show(loose(ChoiceGrid), { label: 'Shape of the path', value: 'arch', options, onchange });
  expect(one('[role="radiogroup"]').getAttribute('aria-label')).toBe('Shape of the path');
  expect(all('label').map((l) => l.textContent?.trim())).toEqual(['Straight', 'Arch', 'Swag']);
  const radios = all<HTMLInputElement>('input');
  expect(radios.map((r) => r.checked)).toEqual([false, true, false]);
  radios[2]?.click();
  expect(onchange).toHaveBeenCalledExactlyOnceWith('swag');
});
