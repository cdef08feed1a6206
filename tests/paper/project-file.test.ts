import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { projectOfPlan, readProject, writeProject } from '../../src/paper/project-file.ts';

const words = (text: string) => {
  const read = readProject(text);
  return read.ok ? 'ok' : read.message;
};

describe('the project file', () => {
  it('reads back what it wrote', () => {
    const project = { ...projectOfPlan('Cast on 8 sts.\n', 'Fern'), units: 'inch' as const };
    const read = readProject(writeProject(project));
    expect(read).toEqual({ ok: true, project, migratedFrom: null });
  });

  it('takes plain plan text as a project of one plan, unchanged', () => {
    const read = readProject('Cast on 8 sts.\r\nRound 1: knit.\r\n');
    expect(read.ok && read.project.plans[0].text).toBe('Cast on 8 sts.\r\nRound 1: knit.\r\n');
  });

  it('migrates the plain form of version 0', () => {
    const read = readProject('{"plan":"Cast on 8 sts.","title":"Fern"}');
    expect(read.ok && read.migratedFrom).toBe(0);
    expect(read.ok && read.project.plans[0]).toEqual({
      id: 'plan-1',
      name: 'Fern',
      text: 'Cast on 8 sts.',
      colours: null,
    });
  });

  it('migrates version 1, which had no colours, and keeps all the rest', () => {
    const old = {
      format: 'lieflat-project',
      version: 1,
      title: 'Hedge',
      units: 'inch',
      terms: 'british',
      plans: [
        { id: 'a', name: 'Fern', text: 'Cast on 8 sts.' },
        { id: 'b', name: 'Moss', text: 'Cast on 12 sts.' },
      ],
      open: 'b',
      blanket: { rows: [['a', 'b', null]], targetMm: 210, easeShare: 0.02 },
      testKnits: [
        {
          id: 'sample-1',
          yarn: 'light',
          note: 'washed',
          predicted: { stitchMm: 4, roundMm: 3, sideMm: 200 },
          measured: { stitchMm: 4.2, roundMm: null, sideMm: null },
          counts: false,
        },
      ],
    };
    const read = readProject(JSON.stringify(old));
    if (!read.ok) throw new Error(read.message);
    expect(read.migratedFrom).toBe(1);
    expect(read.project).toEqual({
      ...old,
      version: 3,
      plans: old.plans.map((plan) => ({ ...plan, colours: null })),
    });
  });

  it('migrates version 2, which held American terms that nobody had chosen, and keeps British ones', () => {
    const read = (terms: string) => {
      const { terms: _none, ...rest } = projectOfPlan('Cast on 8 sts.');
      return readProject(JSON.stringify({ ...rest, version: 2, terms }));
    };
    const [american, british] = [read('american'), read('british')];
    expect(american.ok && american.project.terms).toBeUndefined();
    expect(british.ok && british.project.terms).toBe('british');
  });

  it('keeps the colours of a square, and refuses what is no colour', () => {
    const colours = {
      yarns: [
        { name: 'Woad', hex: '#5787a3' },
        { name: 'Fleece', hex: '#e4dccb' },
      ],
      stripeRounds: 4,
    };
    const plain = projectOfPlan('Cast on 8 sts.\n');
    const striped = { ...plain, plans: [{ ...plain.plans[0], colours }] };
    const read = readProject(writeProject(striped));
    expect(read.ok && read.project.plans[0].colours).toEqual(colours);
    expect(words(writeProject(striped).replace('#5787a3', 'blue'))).toMatch(
      /plans\.0\.colours\.yarns\.0\.hex: must be a colour/,
    );
  });

  it('says in words what is wrong with a broken file', () => {
    expect(words('')).toContain('empty');
    expect(words('{"format":')).toContain('cut short or damaged');
    expect(words('[1]')).toContain('not a project');
    expect(words('{"a":1}')).toContain('not a project that Lieflat saved');
    expect(words('{"format":"lieflat-project","version":99,"plans":[]}')).toContain('newer');
    expect(words('{"format":"lieflat-project","version":1,"plans":[{"id":"a","name":"x"}]}')).toBe(
      'This project is damaged: plan 1 cannot be read (plans.0.text).',
    );
    expect(words('{"format":"lieflat-project","version":2}')).toBe(
      'This project is damaged: its plans cannot be read (plans).',
    );
    expect(words('{"format":"lieflat-project","version":2,"plans":[],"title":4}')).toBe(
      'This project is damaged: a part of it cannot be read (title).',
    );
    expect(words('{"format":"lieflat-project","version":1,"plans":[],"open":"a"}')).toContain(
      'missing',
    );
    expect(
      words('{"format":"lieflat-project","version":1,"plans":[],"blanket":{"rows":[["q"]]}}'),
    ).toContain('"q"');
  });

  it('never throws, whatever the file holds', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          fc.jsonValue().map((v) => JSON.stringify(v)),
        ),
        (text) => {
          expect(typeof readProject(text).ok).toBe('boolean');
        },
      ),
      { seed: 3, numRuns: 500 },
    );
  });
});
