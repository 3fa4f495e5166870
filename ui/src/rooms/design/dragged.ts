// The chosen piece while one of its shares is dragged: its count stands over the picture.
import { compute } from '../../desk';
import { Imagined } from './imagined.svelte';

export const dragged = new Imagined(compute);
