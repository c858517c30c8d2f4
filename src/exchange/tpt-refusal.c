#include "config.h"

#include "tpt-refusal.h"

#include <glib/gi18n-lib.h>

void
tpt_refusal_free (TptRefusal *refusal)
{
  g_free (refusal->file);
  g_free (refusal->column);
  g_free (refusal->reason);
  g_free (refusal);
}

static void
free_refusal (gpointer data)
{
  tpt_refusal_free (data);
}

GPtrArray *
tpt_refusals_new (void)
{
  return g_ptr_array_new_with_free_func (free_refusal);
}

static void
add_refusal (GPtrArray *refusals, const char *file, gint64 line, const char *column, const char *reason, gboolean kept)
{
  TptRefusal *refusal;

  g_return_if_fail (refusals != NULL);
  g_return_if_fail (reason != NULL);

  refusal = g_new0 (TptRefusal, 1);
  refusal->file = g_strdup (file);
  refusal->line = line;
  refusal->column = g_strdup (column);
  refusal->reason = g_strdup (reason);
  refusal->kept = kept;
  g_ptr_array_add (refusals, refusal);
}

void
tpt_refusals_add (GPtrArray *refusals, const char *file, gint64 line, const char *column, const char *reason)
{
  add_refusal (refusals, file, line, column, reason, FALSE);
}

void
tpt_refusals_add_kept (GPtrArray *refusals, const char *file, gint64 line, const char *column, const char *reason)
{
  if (refusals->len < TPT_REFUSALS_MAX)
    add_refusal (refusals, file, line, column, reason, TRUE);
}

guint
tpt_refusals_count_lost (GPtrArray *refusals)
{
  guint lost = 0;

  for (guint i = 0; i < refusals->len; i++)
    {
      const TptRefusal *refusal = g_ptr_array_index (refusals, i);
      if (!refusal->kept)
        lost++;
    }
  return lost;
}

static void
append_part (GString *text, const char *part)
{
  if (text->len > 0)
    g_string_append (text, ", ");
  g_string_append (text, part);
}

char *
tpt_refusal_to_string (const TptRefusal *refusal)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (refusal->file != NULL)
    append_part (text, refusal->file);
  if (refusal->line > 0)
    {
      g_autofree char *line = g_strdup_printf (_("line %" G_GINT64_FORMAT), refusal->line);
      append_part (text, line);
    }
  if (refusal->column != NULL)
    append_part (text, refusal->column);
  if (text->len > 0)
    g_string_append (text, ": ");
  g_string_append (text, refusal->reason);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
