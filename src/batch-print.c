#include "config.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "batch-private.h"

void
batch_print_json (JsonBuilder *builder)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  g_autofree char *text = NULL;

  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  fputs (text, stdout);
  fputc ('\n', stdout);
  g_object_unref (builder);
}

void
batch_add_text (JsonBuilder *builder, const char *name, const char *value)
{
  json_builder_set_member_name (builder, name);
  if (value != NULL)
    json_builder_add_string_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static void
add_real (JsonBuilder *builder, double value)
{
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
batch_add_real (JsonBuilder *builder, const char *name, double value)
{
  json_builder_set_member_name (builder, name);
  add_real (builder, value);
}

void
batch_add_count (JsonBuilder *builder, const char *name, gint64 value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

void
batch_add_flag (JsonBuilder *builder, const char *name, gboolean value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, value);
}

void
batch_add_words (JsonBuilder *builder, const char *name, GPtrArray *words)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < words->len; i++)
    json_builder_add_string_value (builder, words->pdata[i]);
  json_builder_end_array (builder);
}

void
batch_add_instant (JsonBuilder *builder, const char *name, TptInstant value, TptZone *zone)
{
  g_autofree char *text = value != TPT_NO_INSTANT ? tpt_instant_format (value, zone) : NULL;

  batch_add_text (builder, name, text);
}

void
batch_add_pair (JsonBuilder *builder, const char *name, double low, double high)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  add_real (builder, low);
  add_real (builder, high);
  json_builder_end_array (builder);
}

struct _BatchTable {
  GPtrArray *headers; /* (owned) */
  GPtrArray *cells;   /* (owned) */
};

BatchTable *
batch_table_new (const char *first_header, ...)
{
  BatchTable *table = g_new (BatchTable, 1);
  va_list args;

  table->headers = g_ptr_array_new_with_free_func (g_free);
  table->cells = g_ptr_array_new_with_free_func (g_free);
  va_start (args, first_header);
  for (const char *header = first_header; header != NULL; header = va_arg (args, const char *))
    g_ptr_array_add (table->headers, g_strdup (header));
  va_end (args);
  return table;
}

void
batch_table_add (BatchTable *table, const char *cell)
{
  g_ptr_array_add (table->cells, g_strdup (cell != NULL ? cell : "-"));
}

void
batch_table_add_real (BatchTable *table, double value, int decimals)
{
  g_ptr_array_add (table->cells, isfinite (value) ? g_strdup_printf ("%.*f", decimals, value) : g_strdup ("-"));
}

void
batch_table_add_count (BatchTable *table, gint64 value)
{
  g_ptr_array_add (table->cells, g_strdup_printf ("%" G_GINT64_FORMAT, value));
}

void
batch_table_add_day (BatchTable *table, TptInstant instant, TptZone *zone)
{
  g_autofree char *text = instant != TPT_NO_INSTANT ? tpt_instant_format (instant, zone) : NULL;

  if (text != NULL)
    text[10] = '\0';
  batch_table_add (table, text);
}

static void
print_cell (const char *text, glong width, gboolean right, gboolean last)
{
  glong pad = width - g_utf8_strlen (text, -1);

  if (right)
    printf ("%*s%s", (int) pad, "", text);
  else
    printf ("%s%*s", text, last ? 0 : (int) pad, "");
  fputs (last ? "\n" : "  ", stdout);
}

void
batch_table_print (BatchTable *table)
{
  guint n = table->headers->len;
  g_autofree glong *widths = g_new0 (glong, n);

  for (guint i = 0; i < n; i++)
    widths[i] = g_utf8_strlen ((const char *) table->headers->pdata[i] + (*(const char *) table->headers->pdata[i] == '>'), -1);
  for (guint i = 0; i < table->cells->len; i++)
    widths[i % n] = MAX (widths[i % n], g_utf8_strlen (table->cells->pdata[i], -1));

  for (guint i = 0; i < n; i++)
    {
      const char *header = table->headers->pdata[i];
      print_cell (header + (*header == '>'), widths[i], *header == '>', i + 1 == n);
    }
  for (guint i = 0; i < table->cells->len; i++)
    {
      const char *header = table->headers->pdata[i % n];
      print_cell (table->cells->pdata[i], widths[i % n], *header == '>', i % n + 1 == n);
    }
  g_ptr_array_unref (table->headers);
  g_ptr_array_unref (table->cells);
  g_free (table);
}

void
batch_tell_words (GPtrArray *words)
{
  for (guint i = 0; i < words->len; i++)
    g_printerr ("%s\n", (const char *) words->pdata[i]);
}
