import { z } from 'zod';
import type { Rule } from '../../solver/trade/rule.js';
import { RULE_IDS, RULES } from '../../solver/trade/rules.js';
import { onlyMethods } from '../http/errors.js';
import { tradeRuleSchema } from '../schemas/trade.js';
import type { RouteModule } from './route.js';

const table = (): z.output<typeof tradeRuleSchema>[] =>
  RULE_IDS.map((id) => {
    const { title, region, clauses, source, overridable, values }: Rule = RULES[id];
    return {
      id,
      title,
      region,
      clauses: [...clauses],
      source,
      overridable,
      values: Object.entries(values).map(([name, { value, unit, min, max }]) => ({
        name,
        value: typeof value === 'number' ? value : [...value],
        unit,
        min,
        max,
      })),
    };
  });

export const tradeRules: RouteModule = {
  paths: {
    '/v1/rules': {
      get: {
        operationId: 'listTradeRules',
        summary: 'The trade rules and their defaults',
        description:
          'Every default, limit and formula behind electrical reports, readings and materials: where it comes from, in which edition, and how far a request may override it.',
        responses: {
          200: {
            description: 'The whole table.',
            content: { 'application/json': { schema: z.array(tradeRuleSchema) } },
          },
        },
      },
    },
  },
  mount(router) {
    const text = JSON.stringify(table());
    router
      .route('/v1/rules')
      .get((_req, res) => {
        res.type('application/json').send(text);
      })
      .all(onlyMethods('GET', 'HEAD'));
  },
};
