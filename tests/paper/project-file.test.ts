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
    });
  });

  it('says in words what is wrong with a broken file', () => {
    expect(words('')).toContain('empty');
    expect(words('{"format":')).toContain('not complete JSON');
    expect(words('[1]')).toContain('not a project');
    expect(words('{"a":1}')).toContain('no version');
    expect(words('{"format":"lieflat-project","version":99,"plans":[]}')).toContain('newer');
    expect(
      words('{"format":"lieflat-project","version":1,"plans":[{"id":"a","name":"x"}]}'),
    ).toContain('plans.0.text');
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
