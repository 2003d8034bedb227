import { describe, expect, it } from 'vitest';
import { type Answer, AnswerStore, answerBody } from '../../../service/store/answer-store.js';

const answer = (id: string, size = 10): Answer => ({
  id,
  kind: 'layout',
  request: {},
  json: `{"x":"${'y'.repeat(size)}"}`,
  timings: { prepare: 1, solve: 2, verify: 3 },
  sheet: null,
  etag: 'W/"e"',
  repeatable: true,
});

describe('AnswerStore', () => {
  it('drops the answer not asked for longest', () => {
    const store = new AnswerStore({ entries: 2, characters: 1e6 });
    store.put(answer('a'));
    store.put(answer('b'));
    store.get('a');
    store.put(answer('c'));
    expect(['a', 'b', 'c'].map((id) => store.get(id)?.id)).toEqual(['a', undefined, 'c']);
  });

  it('bounds the characters kept, counting an answer put twice once', () => {
    const store = new AnswerStore({ entries: 100, characters: 250 });
    for (let k = 0; k < 10; k += 1) store.put(answer('same', 92));
    store.put(answer('other', 92));
    expect(store.size).toBe(2);
    store.put(answer('third', 92));
    expect(store.size).toBe(2);
    expect(store.get('same')).toBeUndefined();
  });

  it('adds the timings at the end of the body', () => {
    expect(answerBody(answer('a', 1))).toBe('{"x":"y","timings":{"prepare":1,"solve":2,"verify":3}}');
  });
});
