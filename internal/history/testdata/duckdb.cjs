// Asks DuckDB what TestBesideDuckDB asks hawser: somebody's heaviest load and best
// split of each month, from the log files alone. Called as: node duckdb.cjs HOME NAME
// Prints one line of JSON.
const { DuckDBInstance } = require('@duckdb/node-api');

// A split of one who is first on a sled counts from the start of the round to the
// press. After "again" that round and those behind it start anew, and what was
// pressed in it before does not count.
const question = (home, name) => `
with line as (
  select filename f, n, t, e, who, round, at_ns, "at", plan
  from read_json('${home}/log/*/*Z-??????????????????????????.jsonl', format = 'newline_delimited', filename = true,
    columns = {n: 'INT', t: 'BIGINT', "at": 'VARCHAR', e: 'VARCHAR', who: 'VARCHAR', round: 'INT', at_ns: 'BIGINT', plan: 'JSON'})),
run as (
  select f, "at"[:7] as month, list_position(plan->>'$.people[*].name', '${name}') place,
    (plan->>'$.parts[0].spec.Every')::BIGINT / 1000000 every, plan->>'$.parts[0].places[*].spots[0].moves_ug' moves
  from line where e = 'opened'),
go as (select f, at_ns / 1000000 starts from line where e = 'started'),
again as (select f, round, t, at_ns / 1000000 starts from line where e = 'restarted'),
split as (
  select run.month, run.moves[run.place]::BIGINT / 1000000000 kg,
    p.t - if(again.round <= p.round, again.starts + (p.round - again.round) * run.every, go.starts + (p.round - 1) * run.every) ms
  from line p join run using (f) join go using (f) left join again using (f)
  where p.e = 'pressed' and p.who = '${name}' and not coalesce(p.round = again.round and p.t < again.t, false))
select month, max(kg) kg, min(ms)::BIGINT ms from split group by month order by month`;

(async () => {
  const [home, name] = process.argv.slice(2);
  const db = await (await DuckDBInstance.create(':memory:')).connect();
  await db.run('SET threads = 2');
  const version = (await db.runAndReadAll('select version()')).getRows()[0][0];
  const began = process.hrtime.bigint();
  const answer = await db.runAndReadAll(question(home, name));
  const seconds = Number(process.hrtime.bigint() - began) / 1e9;
  const used = process.resourceUsage();
  console.log(JSON.stringify({
    version, seconds, cpu_s: (used.userCPUTime + used.systemCPUTime) / 1e6, mb: used.maxRSS / 1024,
    rows: answer.getRows().map(([month, kg, ms]) => ({ month, kg: Number(kg), ms: Number(ms) })),
  }));
  process.exit(0);
})().catch((e) => { console.error(e.message); process.exit(1); });
