import { z } from 'zod';
import type { BudgetComponent, BudgetOptions, CorrelationPair, Distribution } from '../../core/budget';
import { plainIssue } from '../../job';
import { InputError } from '../input-error';

export type BudgetQuestion = {
  readonly name: string;
  readonly unit: string;
  readonly components: readonly BudgetComponent[];
  readonly options: BudgetOptions;
};

/** Other words people use for the same fields. */
const SYNONYMS: Readonly<Record<string, string>> = {
  u: 'standard_uncertainty',
  std_uncertainty: 'standard_uncertainty',
  standardUncertainty: 'standard_uncertainty',
  U: 'expanded_uncertainty',
  k: 'coverage_factor',
  a: 'half_width',
  halfwidth: 'half_width',
  halfWidth: 'half_width',
  dof: 'degrees_of_freedom',
  df: 'degrees_of_freedom',
  nu: 'degrees_of_freedom',
  degreesOfFreedom: 'degrees_of_freedom',
  c: 'sensitivity',
  estimate: 'value',
};

const SHAPES: Readonly<Record<string, Distribution['kind']>> = {
  normal: 'normal',
  gaussian: 'normal',
  rectangular: 'rectangular',
  uniform: 'rectangular',
  triangular: 'triangular',
  arcsine: 'arcsine',
  'u-shaped': 'arcsine',
  'student-t': 'student-t',
  student: 'student-t',
  t: 'student-t',
};

const withProperNames = (entry: unknown): unknown => {
  if (typeof entry !== 'object' || entry === null || Array.isArray(entry)) return entry;
  return Object.fromEntries(
    Object.entries(entry).map(([key, value]: [string, unknown]) => [SYNONYMS[key] ?? key, value]),
  );
};

const Width = z.number().nonnegative();

const Component = z.preprocess(
  withProperNames,
  z.strictObject({
    name: z.string().min(1),
    value: z.number().default(0),
    distribution: z.string().optional(),
    standard_uncertainty: Width.optional(),
    expanded_uncertainty: Width.optional(),
    coverage_factor: z.number().positive().optional(),
    half_width: Width.optional(),
    scale: Width.optional(),
    degrees_of_freedom: z
      .union([z.number().positive(), z.null(), z.literal('infinite').transform(() => null)])
      .optional(),
    sensitivity: z.number().optional(),
  }),
);

const Correlation = z.union([
  z.strictObject({ between: z.tuple([z.string(), z.string()]), coefficient: z.number() }),
  z
    .strictObject({ a: z.string(), b: z.string(), r: z.number() })
    .transform(({ a, b, r }): CorrelationPair => ({ between: [a, b], coefficient: r })),
  z
    .tuple([z.string(), z.string(), z.number()])
    .transform(([a, b, r]): CorrelationPair => ({ between: [a, b], coefficient: r })),
]);

const File = z.strictObject({
  name: z.string().default('result'),
  unit: z.string().default(''),
  value: z.number().optional(),
  probability: z.number().gt(0).lt(1).optional(),
  coverage_factor: z.number().positive().optional(),
  components: z.array(Component).min(1),
  correlations: z.array(Correlation).default([]),
});

type ComponentFields = z.infer<typeof Component>;

/** A budget file. Refuses unknown fields, widths that are missing or given twice, shapes it does not know; names each. */
export function budgetFromJson(file: string, document: unknown): BudgetQuestion {
  const read = File.safeParse(document);
  if (!read.success) throw fieldError(file, read.error);
  const {
    name,
    unit,
    value,
    probability,
    coverage_factor: coverageFactor,
    components,
    correlations,
  } = read.data;
  return {
    name,
    unit,
    components: components.map((component) => componentFrom(file, component)),
    options: {
      correlations,
      ...(value === undefined ? {} : { value }),
      ...(probability === undefined ? {} : { probability }),
      ...(coverageFactor === undefined ? {} : { coverageFactor }),
    },
  };
}

function fieldError(file: string, error: z.ZodError): InputError {
  const issue = error.issues[0];
  const path = (issue?.path ?? [])
    .map((step) => (typeof step === 'number' ? `${step + 1}` : String(step)))
    .join(' ');
  return new InputError(
    `${path === '' ? 'the document' : path}: ${issue === undefined ? 'not understood' : plainIssue(issue)}`,
    {
      file,
    },
  );
}

function componentFrom(file: string, fields: ComponentFields): BudgetComponent {
  const { name, value, sensitivity, degrees_of_freedom: degreesOfFreedom } = fields;
  return {
    name,
    value,
    distribution: distributionFrom(file, fields),
    ...(degreesOfFreedom === undefined ? {} : { degreesOfFreedom }),
    ...(sensitivity === undefined ? {} : { sensitivity }),
  };
}

function distributionFrom(file: string, fields: ComponentFields): Distribution {
  const kind = shapeOf(file, fields);
  const wide = widthOf(file, fields);
  switch (kind) {
    case 'normal':
      return { kind, standardUncertainty: wide.standardUncertainty ?? halfOnly(file, fields) };
    case 'rectangular':
    case 'triangular':
    case 'arcsine':
      return { kind, halfWidth: wide.halfWidth ?? (wide.standardUncertainty ?? 0) * HALF_PER_STANDARD[kind] };
    case 'student-t':
      return {
        kind,
        scale: fields.scale ?? wide.standardUncertainty ?? halfOnly(file, fields),
        degreesOfFreedom: fields.degrees_of_freedom ?? noDegrees(file, fields),
      };
  }
}

/** Half-width of the shape with a standard uncertainty of 1. Source: GUM 4.3.7, 4.3.9; JCGM 101:2008 Table 1. */
const HALF_PER_STANDARD = {
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  arcsine: Math.sqrt(2),
} as const;

function shapeOf(
  file: string,
  { name, distribution, half_width: half }: ComponentFields,
): Distribution['kind'] {
  if (distribution === undefined) return half === undefined ? 'normal' : 'rectangular';
  const kind = SHAPES[distribution.toLowerCase().replace(/[ _]/g, '-')];
  if (kind !== undefined) return kind;
  const known = [...new Set(Object.values(SHAPES))].join(', ');
  throw new InputError(`component "${name}": distribution "${distribution}" is not known; use ${known}`, {
    file,
  });
}

type Wide = { readonly standardUncertainty: number | undefined; readonly halfWidth: number | undefined };

function widthOf(file: string, fields: ComponentFields): Wide {
  const given = [fields.standard_uncertainty, fields.expanded_uncertainty, fields.half_width, fields.scale];
  const count = given.filter((width) => width !== undefined).length;
  if (count !== 1) {
    const what = count === 0 ? 'has no width' : 'has more than one width';
    throw new InputError(
      `component "${fields.name}" ${what}; give one of standard_uncertainty, half_width, scale, or expanded_uncertainty with coverage_factor`,
      { file },
    );
  }
  const { expanded_uncertainty: expanded, coverage_factor: factor } = fields;
  if (expanded !== undefined && factor === undefined) {
    throw new InputError(`component "${fields.name}": expanded_uncertainty needs its coverage_factor`, {
      file,
    });
  }
  const fromExpanded = expanded === undefined || factor === undefined ? undefined : expanded / factor;
  return { standardUncertainty: fields.standard_uncertainty ?? fromExpanded, halfWidth: fields.half_width };
}

function halfOnly(file: string, { name, distribution }: ComponentFields): never {
  throw new InputError(
    `component "${name}": a ${distribution ?? 'normal'} distribution has no half-width; give standard_uncertainty`,
    {
      file,
    },
  );
}

function noDegrees(file: string, { name }: ComponentFields): never {
  throw new InputError(`component "${name}": a student-t distribution needs its degrees_of_freedom`, {
    file,
  });
}
