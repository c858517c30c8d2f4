#include "config.h"

#include "tpt-record.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-number.h"
#include "tpt-words.h"

typedef struct {
  gboolean set;
  gint64 integer; /* also an instant */
  double real;
  char *text; /* (owned) (nullable) */
} Value;

struct _TptRecord {
  GObject parent_instance;

  const TptTable *table;
  gint64 id;
  char *uuid;        /* (owned) (nullable) */
  Value *values;     /* (owned): one per column */
  GHashTable *names; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptRecord, tpt_record, G_TYPE_OBJECT)

static Value *
find_value (TptRecord *self, const char *column)
{
  int index = tpt_table_find (self->table, column);

  if (index < 0)
    g_error ("The table %s has no column %s", self->table->name, column);
  return &self->values[index];
}

static void
clear_value (Value *value)
{
  g_clear_pointer (&value->text, g_free);
  value->set = FALSE;
}

static gboolean
holds_text (TptColumnType type)
{
  return type != TPT_COLUMN_INTEGER && type != TPT_COLUMN_REAL && type != TPT_COLUMN_INSTANT;
}

static gboolean
equal_values (TptColumnType type, const Value *a, const Value *b)
{
  if (a->set != b->set)
    return FALSE;
  if (!a->set)
    return TRUE;
  if (holds_text (type))
    return g_str_equal (a->text, b->text);
  if (type == TPT_COLUMN_REAL)
    return a->real == b->real;
  return a->integer == b->integer;
}

static void
copy_value (Value *to, const Value *from)
{
  char *text = g_strdup (from->text);

  g_free (to->text);
  *to = *from;
  to->text = text;
}

static void
tpt_record_finalize (GObject *object)
{
  TptRecord *self = TPT_RECORD (object);

  for (guint i = 0; self->table != NULL && i < self->table->n_columns; i++)
    clear_value (&self->values[i]);
  g_free (self->values);
  g_free (self->uuid);
  g_clear_pointer (&self->names, g_hash_table_unref);

  G_OBJECT_CLASS (tpt_record_parent_class)->finalize (object);
}

static void
tpt_record_class_init (TptRecordClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_record_finalize;
}

static void
tpt_record_init (TptRecord *self)
{
}

TptRecord *
tpt_record_new (TptTableId table)
{
  TptRecord *self = g_object_new (TPT_TYPE_RECORD, NULL);

  self->table = tpt_table_get (table);
  self->values = g_new0 (Value, self->table->n_columns);
  return self;
}

TptRecord *
tpt_record_copy (TptRecord *self)
{
  TptRecord *copy = tpt_record_new (self->table->id);
  GHashTableIter iter;
  gpointer language, name;

  tpt_record_set_identity (copy, self->id, self->uuid);
  for (guint i = 0; i < self->table->n_columns; i++)
    copy_value (&copy->values[i], &self->values[i]);
  g_hash_table_iter_init (&iter, tpt_record_get_names (self));
  while (g_hash_table_iter_next (&iter, &language, &name))
    tpt_record_set_name (copy, language, name);
  return copy;
}

const TptTable *
tpt_record_get_table (TptRecord *self)
{
  return self->table;
}

gint64
tpt_record_get_id (TptRecord *self)
{
  return self->id;
}

const char *
tpt_record_get_uuid (TptRecord *self)
{
  return self->uuid;
}

void
tpt_record_set_identity (TptRecord *self, gint64 id, const char *uuid)
{
  self->id = id;
  g_free (self->uuid);
  self->uuid = g_strdup (uuid);
}

const char *
tpt_record_get_code (TptRecord *self)
{
  return tpt_record_get_text (self, self->table->columns[0].name);
}

gboolean
tpt_record_is_set (TptRecord *self, const char *column)
{
  return find_value (self, column)->set;
}

const char *
tpt_record_get_text (TptRecord *self, const char *column)
{
  return find_value (self, column)->text;
}

double
tpt_record_get_real (TptRecord *self, const char *column)
{
  Value *value = find_value (self, column);

  return value->set ? value->real : NAN;
}

gint64
tpt_record_get_integer (TptRecord *self, const char *column, gint64 fallback)
{
  Value *value = find_value (self, column);

  return value->set ? value->integer : fallback;
}

TptInstant
tpt_record_get_instant (TptRecord *self, const char *column)
{
  return tpt_record_get_integer (self, column, TPT_NO_INSTANT);
}

void
tpt_record_set_text (TptRecord *self, const char *column, const char *text)
{
  Value *value = find_value (self, column);
  char *copy = text != NULL && *text != '\0' ? g_strdup (text) : NULL;

  clear_value (value);
  value->text = copy;
  value->set = copy != NULL;
}

void
tpt_record_set_real (TptRecord *self, const char *column, double real)
{
  Value *value = find_value (self, column);

  value->real = real;
  value->set = !isnan (real);
}

void
tpt_record_set_integer (TptRecord *self, const char *column, gint64 integer)
{
  Value *value = find_value (self, column);

  value->integer = integer;
  value->set = TRUE;
}

void
tpt_record_set_instant (TptRecord *self, const char *column, TptInstant instant)
{
  Value *value = find_value (self, column);

  value->integer = instant;
  value->set = instant != TPT_NO_INSTANT;
}

GHashTable *
tpt_record_get_names (TptRecord *self)
{
  if (self->names == NULL)
    self->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  return self->names;
}

void
tpt_record_set_name (TptRecord *self, const char *language, const char *name)
{
  if (name == NULL || *name == '\0')
    g_hash_table_remove (tpt_record_get_names (self), language);
  else
    g_hash_table_insert (tpt_record_get_names (self), g_strdup (language), g_strdup (name));
}

static gboolean
refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, message);
  return FALSE;
}

static gboolean
parse_choice (const TptColumn *column, const char *text, GError **error)
{
  g_autofree char *all = NULL, *shown = NULL;

  if (g_strv_contains (column->choices, text))
    return TRUE;
  all = g_strjoinv (", ", (char **) column->choices);
  shown = tpt_words_shorten (text);
  return refuse (error, _("“%s” is none of: %s"), shown, all);
}

static gboolean
parse_date (const char *text, GError **error)
{
  g_autofree char *shown = NULL;
  TptReading reading;

  if (strlen (text) == 10 && tpt_reading_parse (text, &reading, NULL))
    return TRUE;
  shown = tpt_words_shorten (text);
  return refuse (error, _("“%s” is not a date such as 2026-05-14"), shown);
}

static gboolean
parse_plain (const char *text, GError **error)
{
  if (!g_utf8_validate (text, -1, NULL))
    return refuse (error, _("this text is not UTF-8"));
  for (const char *p = text; *p != '\0'; p++)
    if ((guchar) *p < ' ' && *p != '\n' && *p != '\t')
      return refuse (error, _("this text holds a control character"));
  return TRUE;
}

static gboolean
parse_value (const TptColumn *column, const char *text, TptZone *zone, Value *value, GError **error)
{
  TptReading reading;

  switch (column->type)
    {
    case TPT_COLUMN_INTEGER:
      return tpt_number_parse_integer (text, (gint64) column->min, (gint64) column->max, &value->integer, error);
    case TPT_COLUMN_REAL:
      return tpt_number_parse_real (text, column->min, column->max, &value->real, error);
    case TPT_COLUMN_INSTANT:
      value->integer = tpt_instant_parse (text, zone, error);
      return value->integer != TPT_NO_INSTANT;
    case TPT_COLUMN_CHOICE:
      return parse_choice (column, text, error);
    case TPT_COLUMN_DATE:
      return parse_date (text, error);
    case TPT_COLUMN_READING:
      return tpt_reading_parse (text, &reading, error);
    case TPT_COLUMN_TEXT:
    case TPT_COLUMN_REFERENCE:
    default:
      return parse_plain (text, error);
    }
}

gboolean
tpt_record_set_from_string (TptRecord *self, const char *name, const char *text, TptZone *zone, GError **error)
{
  Value *value = find_value (self, name);
  const TptColumn *column = &self->table->columns[value - self->values];
  Value parsed = { 0 };
  g_autofree char *trimmed = text != NULL ? g_strstrip (g_strdup (text)) : NULL;

  if (trimmed == NULL || *trimmed == '\0')
    {
      clear_value (value);
      return TRUE;
    }
  if (!parse_value (column, trimmed, zone, &parsed, error))
    return FALSE;

  clear_value (value);
  *value = parsed;
  value->set = TRUE;
  if (holds_text (column->type))
    value->text = g_steal_pointer (&trimmed);
  return TRUE;
}

char *
tpt_record_to_string (TptRecord *self, const char *name, TptZone *zone)
{
  Value *value = find_value (self, name);
  TptColumnType type = self->table->columns[value - self->values].type;

  if (!value->set)
    return NULL;
  if (holds_text (type))
    return g_strdup (value->text);
  if (type == TPT_COLUMN_REAL)
    return tpt_number_format_real (value->real);
  if (type == TPT_COLUMN_INSTANT)
    return tpt_instant_format (value->integer, zone);
  return g_strdup_printf ("%" G_GINT64_FORMAT, value->integer);
}

static gboolean
blame (const char **column, const char *name, GError **error, const char *message)
{
  if (column != NULL)
    *column = name;
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, message);
  return FALSE;
}

static gboolean
check_order (TptRecord *self, const char *from, const char *to, const char **column, GError **error)
{
  TptInstant start = tpt_record_get_instant (self, from);
  TptInstant end = tpt_record_get_instant (self, to);

  if (start == TPT_NO_INSTANT || end == TPT_NO_INSTANT || end >= start)
    return TRUE;
  return blame (column, to, error, _("the end lies before the start"));
}

static gboolean
check_species_row (TptRecord *self, const char **column, GError **error)
{
  const char *type = tpt_record_get_text (self, "type");

  if (tpt_record_is_set (self, "scientific_name") && g_strcmp0 (type, "animal") != 0)
    return blame (column, "scientific_name", error, _("only an animal has a scientific name here"));
  return check_order (self, "start", "end", column, error);
}

static gboolean
check_log_entry (TptRecord *self, const char **column, GError **error)
{
  static const char *const harms[] = { "damage", "failure", "loss", NULL };

  if (tpt_record_is_set (self, "cause") && !g_strv_contains (harms, tpt_record_get_text (self, "what")))
    return blame (column, "cause", error, _("only damage, failure and loss have a cause"));
  return TRUE;
}

gboolean
tpt_record_check (TptRecord *self, const char **column, GError **error)
{
  for (guint i = 0; i < self->table->n_columns; i++)
    if (self->table->columns[i].required && !self->values[i].set)
      return blame (column, self->table->columns[i].name, error, _("this is needed and is empty"));

  switch (self->table->id)
    {
    case TPT_TABLE_STATIONS:
      if (tpt_record_is_set (self, "latitude") != tpt_record_is_set (self, "longitude"))
        return blame (column, tpt_record_is_set (self, "latitude") ? "longitude" : "latitude", error,
                      _("a position needs both latitude and longitude"));
      return TRUE;
    case TPT_TABLE_DEPLOYMENTS:
      return check_order (self, "start", "end", column, error);
    case TPT_TABLE_FITTINGS:
      return check_order (self, "from", "to", column, error);
    case TPT_TABLE_OBSERVATIONS:
      return check_species_row (self, column, error);
    case TPT_TABLE_VISITS:
      if (tpt_record_is_set (self, "camera_clock") != tpt_record_is_set (self, "true_clock"))
        return blame (column, tpt_record_is_set (self, "camera_clock") ? "true_clock" : "camera_clock", error,
                      _("a clock check needs both what the camera showed and the true time"));
      return TRUE;
    case TPT_TABLE_READINGS:
      if (tpt_record_is_set (self, "replacement") && g_strcmp0 (tpt_record_get_text (self, "action"), "swapped") != 0)
        return blame (column, "replacement", error, _("only a unit that was swapped is replaced by another"));
      return TRUE;
    case TPT_TABLE_UNIT_LOG:
      return check_log_entry (self, column, error);
    case TPT_TABLE_UNITS:
    case TPT_TABLE_STOCK:
    case TPT_TABLE_SPECIES:
    case TPT_TABLE_FRAMES:
    case TPT_N_TABLES:
    default:
      return TRUE;
    }
}

static gboolean
equal_names (TptRecord *self, TptRecord *other)
{
  GHashTable *mine = tpt_record_get_names (self);
  GHashTable *theirs = tpt_record_get_names (other);
  GHashTableIter iter;
  gpointer language, name;

  if (g_hash_table_size (mine) != g_hash_table_size (theirs))
    return FALSE;
  g_hash_table_iter_init (&iter, mine);
  while (g_hash_table_iter_next (&iter, &language, &name))
    if (g_strcmp0 (name, g_hash_table_lookup (theirs, language)) != 0)
      return FALSE;
  return TRUE;
}

gboolean
tpt_record_equal (TptRecord *self, TptRecord *other)
{
  if (self->table != other->table)
    return FALSE;
  for (guint i = 0; i < self->table->n_columns; i++)
    if (!equal_values (self->table->columns[i].type, &self->values[i], &other->values[i]))
      return FALSE;
  return equal_names (self, other);
}

void
tpt_record_overlay (TptRecord *self, TptRecord *newer, const char *const *columns)
{
  for (guint i = 0; columns[i] != NULL; i++)
    {
      const char *language;

      if (g_str_has_prefix (columns[i], "common_"))
        {
          language = columns[i] + strlen ("common_");
          tpt_record_set_name (self, language, g_hash_table_lookup (tpt_record_get_names (newer), language));
        }
      else
        copy_value (find_value (self, columns[i]), find_value (newer, columns[i]));
    }
}
