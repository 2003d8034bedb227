import type { SolverPool, WorkTask, WorkTicket } from './task.js';

/** A caller's hold on a task that others may be waiting for too. */
export interface Seat {
  readonly ticket: WorkTicket;
  /** Gives up the hold; the task is cancelled when nobody holds it any more. Harmless when repeated. */
  leave(): void;
}

export type Boarding =
  | { readonly kind: 'aboard'; readonly seat: Seat }
  | { readonly kind: 'queue-full' | 'draining'; readonly retryAfter: number };

interface Flight {
  readonly ticket: WorkTicket;
  seats: number;
}

/** Equal requests that come while one of them is under way share its solve. */
export class Flights {
  readonly #pool: SolverPool;
  readonly #flights = new Map<string, Flight>();

  constructor(pool: SolverPool) {
    this.#pool = pool;
  }

  board(task: WorkTask, hardMs: number): Boarding {
    const flying = this.#flights.get(task.id);
    if (flying !== undefined) return { kind: 'aboard', seat: this.#seat(task.id, flying) };
    const submission = this.#pool.submit(task, hardMs);
    if (submission.kind !== 'accepted') return submission;
    const flight: Flight = { ticket: submission.ticket, seats: 0 };
    this.#flights.set(task.id, flight);
    void flight.ticket.done.then(() => this.#forget(task.id, flight));
    return { kind: 'aboard', seat: this.#seat(task.id, flight) };
  }

  #forget(id: string, flight: Flight): void {
    if (this.#flights.get(id) === flight) this.#flights.delete(id);
  }

  #seat(id: string, flight: Flight): Seat {
    flight.seats += 1;
    let held = true;
    return {
      ticket: flight.ticket,
      leave: () => {
        if (!held) return;
        held = false;
        flight.seats -= 1;
        if (flight.seats > 0) return;
        this.#forget(id, flight);
        flight.ticket.cancel();
      },
    };
  }
}
