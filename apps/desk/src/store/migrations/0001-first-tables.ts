import type { CreateTableBuilder, Kysely } from "kysely";

type Column = "text" | "text?" | "integer" | "bigint" | "bigint?" | "double" | "double?";

/** A table as a list of columns (`?`: may be null) and its key; the types mean the same on SQLite and PostgreSQL. */
interface Table {
  readonly columns: Readonly<Record<string, Column>>;
  readonly key: readonly string[];
  readonly indexes?: readonly (readonly string[])[];
}

const outboxColumns = {
  key: "text",
  channel: "text",
  address: "text",
  person: "text",
  site: "text",
  matter: "text",
  kind: "text",
  sequence: "integer",
  state: "text",
  envelope_json: "text",
  reason: "text",
  written_at: "bigint",
  due_at: "bigint",
  attempts: "integer",
  lease_until: "bigint?",
  claimed_by: "text?",
  finished_at: "bigint?",
  reply: "text?",
} as const;

const readingColumns = {
  site: "text",
  array_id: "text",
  device: "text",
  source: "text",
  kind: "text",
  at: "bigint",
  value_number: "double?",
  value_word: "text?",
  quality: "text",
  key: "text",
  received_at: "bigint",
} as const;

const WATCHED: Readonly<Record<string, Table>> = {
  mark: { columns: { name: "text", value: "bigint" }, key: ["name"] },
  site: {
    columns: {
      id: "text",
      revision: "integer",
      digest: "text",
      text: "text",
      site_json: "text",
      limits_json: "text",
      known_since: "bigint",
      put_at: "bigint",
      put_by: "text",
      removed_at: "bigint?",
    },
    key: ["id"],
  },
  detector: {
    columns: { site: "text", array_id: "text", state_json: "text" },
    key: ["site", "array_id"],
  },
  alarm: {
    columns: {
      id: "text",
      site: "text",
      array_id: "text?",
      path_id: "text?",
      person: "text?",
      sign: "text",
      condition: "text",
      occurrence: "integer",
      active_at: "bigint?",
      alarm_json: "text",
    },
    key: ["id"],
    indexes: [["site"], ["active_at"]],
  },
  fault_case: {
    columns: {
      id: "text",
      site: "text",
      array_id: "text",
      opened_at: "bigint",
      closed_at: "bigint?",
      case_json: "text",
    },
    key: ["id"],
    indexes: [["site", "closed_at"], ["opened_at"]],
  },
  reading: {
    columns: readingColumns,
    key: ["key"],
    indexes: [["site", "at"], ["received_at"]],
  },
  last_known: {
    columns: { ...readingColumns, good_at: "bigint?" },
    key: ["site", "device", "source", "kind", "array_id"],
  },
  insulation_day: {
    columns: {
      site: "text",
      array_id: "text",
      device: "text",
      date: "text",
      lowest_ohms: "double",
      highest_ohms: "double",
      morning_lowest_ohms: "double?",
    },
    key: ["site", "array_id", "device", "date"],
  },
  set_aside: {
    columns: {
      id: "text",
      key: "text",
      site: "text?",
      reason: "text",
      reading_json: "text",
      received_at: "bigint",
      times: "integer",
    },
    key: ["id"],
    indexes: [["site"]],
  },
  next_look: { columns: { site: "text", at: "bigint" }, key: ["site"], indexes: [["at"]] },
};

const TOLD: Readonly<Record<string, Table>> = {
  outbox: {
    columns: outboxColumns,
    key: ["key"],
    indexes: [["state", "due_at"], ["matter"], ["finished_at"], ["written_at"]],
  },
  outbox_cover: {
    columns: {
      way_key: "text",
      outbox_key: "text",
      site: "text",
      matter: "text",
      path_id: "text",
      person: "text",
      kind: "text",
      sequence: "integer",
      told_json: "text",
    },
    key: ["way_key"],
    indexes: [["outbox_key"]],
  },
  delivery: {
    columns: {
      matter: "text",
      path_id: "text",
      person: "text",
      sequence: "integer",
      kind: "text",
      at: "bigint",
      told_json: "text",
      channel: "text",
      outbox_key: "text",
    },
    key: ["matter", "path_id", "person", "sequence"],
  },
  broken_way: {
    columns: { channel: "text", address: "text", since_at: "bigint", reason: "text" },
    key: ["channel", "address"],
  },
  path_watch: {
    columns: {
      site: "text",
      path_id: "text",
      deadline_at: "bigint?",
      silent: "integer",
      watch_json: "text",
    },
    key: ["site", "path_id"],
    indexes: [["deadline_at"]],
  },
  drill: {
    columns: {
      id: "text",
      site: "text",
      path_id: "text",
      started_at: "bigint",
      answer_by_at: "bigint",
      ended_at: "bigint?",
      outcome: "text?",
      reading_key: "text?",
      drill_json: "text",
    },
    key: ["id"],
    indexes: [["site", "path_id"], ["ended_at"]],
  },
  drill_plan: { columns: { site: "text", path_id: "text", at: "bigint" }, key: ["site", "path_id"] },
  ladder: {
    columns: { site: "text", path_id: "text", rungs_json: "text", put_at: "bigint", put_by: "text" },
    key: ["site", "path_id"],
  },
  ack_link: {
    columns: {
      token_hash: "text",
      outbox_key: "text",
      person: "text",
      issued_at: "bigint",
      expires_at: "bigint",
      used_at: "bigint?",
    },
    key: ["token_hash"],
    indexes: [["expires_at"]],
  },
  site_token: {
    columns: {
      token_hash: "text",
      site: "text",
      label: "text",
      issued_at: "bigint",
      issued_by: "text",
      revoked_at: "bigint?",
      revoked_by: "text?",
    },
    key: ["token_hash"],
  },
  done_request: { columns: { key: "text", answer_json: "text", at: "bigint" }, key: ["key"] },
  journal: {
    columns: {
      sequence: "bigint",
      at: "bigint",
      kind: "text",
      site: "text?",
      subject: "text?",
      by: "text?",
      text: "text",
      before_hash: "text",
      hash: "text",
    },
    key: ["sequence"],
    indexes: [["site", "sequence"], ["subject"]],
  },
};

type AnyTable = CreateTableBuilder<string>;

async function createTable(db: Kysely<unknown>, name: string, table: Table): Promise<void> {
  let builder: AnyTable = db.schema.createTable(name);
  for (const [column, type] of Object.entries(table.columns)) {
    const mayBeNull = type.endsWith("?");
    const plain = type.replace("?", "") as "text" | "integer" | "bigint" | "double";
    builder = builder.addColumn(column, plain === "double" ? "double precision" : plain, (col) =>
      mayBeNull ? col : col.notNull(),
    );
  }
  await builder.addPrimaryKeyConstraint(`${name}_key`, [...table.key] as never).execute();
  for (const columns of table.indexes ?? []) {
    await db.schema
      .createIndex(`${name}_by_${columns.join("_")}`)
      .on(name)
      .columns([...columns])
      .execute();
  }
}

export async function firstTables(db: Kysely<unknown>): Promise<void> {
  for (const [name, table] of Object.entries({ ...WATCHED, ...TOLD })) await createTable(db, name, table);
  await db.schema
    .createIndex("fault_case_one_open")
    .on("fault_case")
    .columns(["site", "array_id"])
    .unique()
    .where("closed_at" as never, "is", null as never)
    .execute();
  const marks = ["pen", "cases", "drills", "journal"].map((name) => ({ name, value: 0 }));
  await (db as Kysely<{ mark: { name: string; value: number } }>).insertInto("mark").values(marks).execute();
}
