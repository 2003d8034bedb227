import { createGlpkEngine } from '../../solver/engines/glpk.js';
import type { MipEngine } from '../../solver/engines/port.js';

/** The one engine of this thread, made when it is first needed. */
export class EngineSlot {
  #engine: Promise<MipEngine> | null = null;

  async use<T>(work: (engine: MipEngine | null) => T): Promise<T> {
    this.#engine ??= createGlpkEngine();
    const engine = await this.#engine;
    try {
      return work(engine);
    } catch {
      this.#engine = null;
      return work(null);
    }
  }
}
