// An owner who shows each value while it is dragged gives the field the new value before it is let go.
import { flushSync } from 'svelte';
import { expect, test, vi } from 'vitest';
import { percentage } from '../format/quantity';
import NumberField from './NumberField.svelte';
import { all, one, press, show } from './shown.testing';
import Slider from './Slider.svelte';

/** An owner of one value who shows each preview of it. */
function owner(at: number) {
  let value = $state(at);
  const onchange = vi.fn();
  return {
    onchange,
    props: {
      get value() {
        return value;
      },
      onpreview: (v: number) => (value = v),
      onchange,
    },
  };
}

test('the share of a size that was dragged was never kept: its slider had its new value already', () => {
  const { onchange, props } = owner(65);
  // props with a getter: copied, it would no longer follow
  show(Slider, Object.defineProperties(props, { label: { value: 'Share', enumerable: true }, say: { value: String, enumerable: true } }) as never);
  const input = one<HTMLInputElement>('input[type="range"]');
  for (const v of [70, 80]) {
    input.value = String(v);
    input.dispatchEvent(new Event('input', { bubbles: true }));
    flushSync();
  }
  input.dispatchEvent(new Event('change', { bubbles: true }));
  expect(onchange).toHaveBeenCalledExactlyOnceWith(80);
  input.dispatchEvent(new FocusEvent('blur'));
  expect(onchange).toHaveBeenCalledTimes(1);
});

test('the share of a colour that was stepped was never kept: its number had its new value already', () => {
  const { onchange, props } = owner(50);
  show(NumberField, Object.defineProperties(props, { label: { value: 'Share', enumerable: true }, quantity: { value: percentage(5), enumerable: true } }) as never);
  press(one('input'), 'ArrowUp');
  expect(onchange).toHaveBeenCalledExactlyOnceWith(55);
  const more = all('button')[1];
  more?.dispatchEvent(new MouseEvent('click', { bubbles: true, detail: 0 }));
  flushSync();
  expect(onchange).toHaveBeenLastCalledWith(60);
  expect(onchange).toHaveBeenCalledTimes(2);
});
