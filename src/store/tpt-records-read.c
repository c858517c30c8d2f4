#include "config.h"

#include "tpt-records.h"

#include "tpt-geometry.h"
#include "tpt-records-private.h"

gboolean
tpt_records_is_position (const TptTable *table, const TptColumn *column)
{
  return table->id == TPT_TABLE_STATIONS &&
         (g_str_equal (column->name, "latitude") || g_str_equal (column->name, "longitude"));
}

const char *
tpt_records_code_column (TptTableId table)
{
  return tpt_table_get (table)->columns[0].column;
}

/* SQL for a column's value as the domain has it: references as codes. */
static void
append_value (GString *sql, const TptTable *table, const TptColumn *column)
{
  if (tpt_records_is_position (table, column))
    g_string_append (sql, "t.geom");
  else if (column->type == TPT_COLUMN_REFERENCE)
    g_string_append_printf (sql, "(SELECT r.\"%s\" FROM %s r WHERE r.id = t.%s)", tpt_records_code_column (column->refers),
                            tpt_table_get (column->refers)->name, column->column);
  else
    g_string_append_printf (sql, "t.\"%s\"", column->column);
}

static const char *
order_of (TptTableId table)
{
  switch (table)
    {
    case TPT_TABLE_DEPLOYMENTS:
    case TPT_TABLE_OBSERVATIONS:
      return "t.start_at, t.id";
    case TPT_TABLE_FITTINGS:
      return "t.from_at, t.id";
    case TPT_TABLE_VISITS:
    case TPT_TABLE_UNIT_LOG:
      return "t.at, t.id";
    case TPT_TABLE_STATIONS:
    case TPT_TABLE_UNITS:
    case TPT_TABLE_READINGS:
    case TPT_TABLE_SPECIES:
    case TPT_TABLE_FRAMES:
    case TPT_TABLE_STOCK:
    case TPT_N_TABLES:
    default:
      return "3, 4, t.id";
    }
}

static GString *
start_select (const TptTable *table)
{
  GString *sql = g_string_new ("SELECT t.id, t.uuid");

  for (guint i = 0; i < table->n_columns; i++)
    {
      g_string_append (sql, ", ");
      append_value (sql, table, &table->columns[i]);
    }
  g_string_append_printf (sql, " FROM %s t", table->name);
  return sql;
}

static void
read_position (TptStmt *stmt, int index, TptRecord *record)
{
  double latitude, longitude;
  gsize size;
  const void *blob = tpt_stmt_blob (stmt, index, &size);

  if (!tpt_geometry_to_point (blob, size, &latitude, &longitude))
    return;
  tpt_record_set_real (record, "latitude", latitude);
  tpt_record_set_real (record, "longitude", longitude);
}

static TptRecord *
read_row (TptStmt *stmt, const TptTable *table)
{
  TptRecord *record = tpt_record_new (table->id);

  tpt_record_set_identity (record, tpt_stmt_int (stmt, 0), tpt_stmt_text (stmt, 1));
  for (guint i = 0; i < table->n_columns; i++)
    {
      const TptColumn *column = &table->columns[i];
      int index = (int) i + 2;

      if (tpt_records_is_position (table, column))
        read_position (stmt, index, record);
      else if (tpt_stmt_is_null (stmt, index))
        continue;
      else if (column->type == TPT_COLUMN_REAL)
        tpt_record_set_real (record, column->name, tpt_stmt_double (stmt, index));
      else if (column->type == TPT_COLUMN_INTEGER)
        tpt_record_set_integer (record, column->name, tpt_stmt_int (stmt, index));
      else if (column->type == TPT_COLUMN_INSTANT)
        tpt_record_set_instant (record, column->name, tpt_stmt_instant (stmt, index));
      else
        tpt_record_set_text (record, column->name, tpt_stmt_text (stmt, index));
    }
  return record;
}

static gboolean
read_names (TptStore *self, TptRecord *record, GError **error)
{
  g_autoptr (TptStmt) stmt = NULL;
  GError *failure = NULL;

  if (tpt_record_get_table (record)->id != TPT_TABLE_SPECIES)
    return TRUE;
  stmt = tpt_db_prepare (self->db, "SELECT language, name FROM common_names WHERE species_id = ?1", error);
  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, tpt_record_get_id (record));
  while (tpt_stmt_next (stmt, &failure))
    tpt_record_set_name (record, tpt_stmt_text (stmt, 0), tpt_stmt_text (stmt, 1));
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

/* Frames of a withdrawn batch are kept for a redo, but nobody sees them. */
static void
append_counts (GString *sql, const TptTable *table)
{
  if (table->id == TPT_TABLE_FRAMES)
    g_string_append (sql, " AND t.batch_id IN (SELECT id FROM batches WHERE active)");
}

static void
append_where (GString *sql, const TptTable *table, const char *column)
{
  const TptColumn *match;

  g_string_append (sql, " WHERE 1");
  append_counts (sql, table);
  if (column == NULL)
    return;
  match = &table->columns[tpt_table_find (table, column)];
  g_string_append_printf (sql, " AND t.\"%s\" = ", match->column);
  if (match->type == TPT_COLUMN_REFERENCE)
    g_string_append_printf (sql, "(SELECT id FROM %s WHERE \"%s\" = ?1)", tpt_table_get (match->refers)->name,
                            tpt_records_code_column (match->refers));
  else
    g_string_append (sql, "?1");
}

static gboolean
walk (TptStore *self, const TptTable *table, const char *column, const char *value, TptRecordFunc func, gpointer data,
      GError **error)
{
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;
  GError *failure = NULL;

  append_where (sql, table, column);
  g_string_append_printf (sql, " ORDER BY %s", order_of (table->id));
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return FALSE;
  if (column != NULL)
    tpt_stmt_bind_text (stmt, 1, value);
  while (failure == NULL && tpt_stmt_next (stmt, &failure))
    {
      g_autoptr (TptRecord) record = read_row (stmt, table);

      if (read_names (self, record, &failure))
        func (record, data, &failure);
    }
  if (failure == NULL)
    return TRUE;
  g_propagate_error (error, failure);
  return FALSE;
}

gboolean
tpt_store_each (TptStore *self, TptTableId table, TptRecordFunc func, gpointer data, GError **error)
{
  return walk (self, tpt_table_get (table), NULL, NULL, func, data, error);
}

static gboolean
collect_cb (TptRecord *record, gpointer data, GError **error)
{
  g_ptr_array_add (data, g_object_ref (record));
  return TRUE;
}

GPtrArray *
tpt_store_list (TptStore *self, TptTableId table, const char *column, const char *value, GError **error)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (g_object_unref);

  if (!walk (self, tpt_table_get (table), column, value, collect_cb, rows, error))
    return NULL;
  return g_steal_pointer (&rows);
}

static TptRecord *
find_where (TptStore *self, const TptTable *table, TptStmt *stmt, GError **error)
{
  g_autoptr (TptRecord) record = NULL;

  if (!tpt_stmt_next (stmt, error))
    return NULL;
  record = read_row (stmt, table);
  return read_names (self, record, error) ? g_steal_pointer (&record) : NULL;
}

TptRecord *
tpt_store_find (TptStore *self, TptTableId id, const char *code, GError **error)
{
  const TptTable *table = tpt_table_get (id);
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  g_string_append_printf (sql, " WHERE t.\"%s\" = ?1", tpt_records_code_column (id));
  append_counts (sql, table);
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_text (stmt, 1, code);
  return find_where (self, table, stmt, error);
}

static void
append_match (GString *sql, const TptColumn *column, guint parameter)
{
  if (column->type == TPT_COLUMN_REFERENCE)
    g_string_append_printf (sql, "t.%s = (SELECT id FROM %s WHERE \"%s\" = ?%u)", column->column,
                            tpt_table_get (column->refers)->name, tpt_records_code_column (column->refers), parameter);
  else
    g_string_append_printf (sql, "t.\"%s\" = ?%u", column->column, parameter);
}

void
tpt_records_bind_value (TptStmt *stmt, int parameter, TptRecord *record, const TptColumn *column)
{
  if (!tpt_record_is_set (record, column->name))
    tpt_stmt_bind_null (stmt, parameter);
  else if (column->type == TPT_COLUMN_REAL)
    tpt_stmt_bind_double (stmt, parameter, tpt_record_get_real (record, column->name));
  else if (column->type == TPT_COLUMN_INTEGER)
    tpt_stmt_bind_int (stmt, parameter, tpt_record_get_integer (record, column->name, 0));
  else if (column->type == TPT_COLUMN_INSTANT)
    tpt_stmt_bind_instant (stmt, parameter, tpt_record_get_instant (record, column->name));
  else
    tpt_stmt_bind_text (stmt, parameter, tpt_record_get_text (record, column->name));
}

TptRecord *
tpt_records_find_by_id (TptStore *self, const TptTable *table, gint64 id, GError **error)
{
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  g_string_append (sql, " WHERE t.id = ?1");
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, id);
  return find_where (self, table, stmt, error);
}

TptRecord *
tpt_store_find_like (TptStore *self, TptRecord *like, GError **error)
{
  const TptTable *table = tpt_record_get_table (like);
  g_autoptr (GString) sql = start_select (table);
  g_autoptr (TptStmt) stmt = NULL;

  for (guint i = 0; i < table->n_key; i++)
    {
      g_string_append (sql, i == 0 ? " WHERE " : " AND ");
      append_match (sql, &table->columns[i], i + 1);
    }
  append_counts (sql, table);
  stmt = tpt_db_prepare (self->db, sql->str, error);
  if (stmt == NULL)
    return NULL;
  for (guint i = 0; i < table->n_key; i++)
    tpt_records_bind_value (stmt, (int) i + 1, like, &table->columns[i]);
  return find_where (self, table, stmt, error);
}
