// The scene of a plan is reckoned once, however many steps show it.
import type { Plan, Scene } from '../../desk';

const known = new WeakMap<Plan, Promise<Scene>>();

export const scenes = {
  /** The scene of a plan; `ask` is asked only the first time. One that failed is asked anew. */
  of(plan: Plan, ask: () => Promise<Scene>): Promise<Scene> {
    const there = known.get(plan);
    if (there) return there;
    const asked = ask();
    known.set(plan, asked);
    asked.catch(() => known.delete(plan));
    return asked;
  },
};
