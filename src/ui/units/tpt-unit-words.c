#include "config.h"

#include "tpt-unit-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

static void
add_part (GString *text, const char *part)
{
  if (part == NULL || *part == '\0')
    return;
  g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", part);
}

char *
tpt_unit_words_make (TptRecord *unit)
{
  const char *make = tpt_record_get_text (unit, "make"), *model = tpt_record_get_text (unit, "model");
  const char *serial = tpt_record_get_text (unit, "serial"), *sensor = tpt_record_get_text (unit, "sensor");
  g_autofree char *maker = make != NULL && model != NULL ? g_strdup_printf ("%s %s", make, model) : g_strdup (make != NULL ? make : model);
  g_autofree char *number = serial != NULL ? g_strdup_printf (_("serial number %s"), serial) : NULL;
  g_autofree char *senses = sensor != NULL ? tpt_choice_inline (sensor) : NULL;
  GString *text = g_string_new (NULL);

  add_part (text, tpt_choice_label (tpt_record_get_text (unit, "kind")));
  add_part (text, tpt_record_get_code (unit));
  add_part (text, maker);
  add_part (text, senses);
  add_part (text, tpt_record_get_text (unit, "housing"));
  add_part (text, number);
  return g_string_free (text, FALSE);
}

/* (transfer full): how the cells stand together, where there is more than one. */
static char *
count_cells (TptRecord *unit)
{
  gint64 series = tpt_record_get_integer (unit, "cells_series", 1), parallel = tpt_record_get_integer (unit, "cells_parallel", 1);

  if (parallel > 1)
    /* Translators: strings of cells side by side, and cells in each. */
    return g_strdup_printf (_("%1$d strings of %2$d × "), (int) parallel, (int) series);
  return series > 1 ? g_strdup_printf (_("%d × "), (int) series) : g_strdup ("");
}

char *
tpt_unit_words_cells (TptRecord *unit)
{
  const char *chemistry = tpt_record_get_text (unit, "chemistry"), *size = tpt_record_get_text (unit, "cell_size");
  double mah = tpt_record_get_real (unit, "cell_mah"), gigabytes = tpt_record_get_real (unit, "capacity_gb");
  g_autofree char *count = count_cells (unit), *inline_size = size != NULL ? tpt_choice_inline (size) : NULL, *charge = NULL;
  GString *text;

  if (!isnan (gigabytes))
    {
      g_autofree char *number = tpt_words_number (gigabytes);

      return g_strdup_printf (_("%s GB"), number);
    }
  if (chemistry == NULL && size == NULL && isnan (mah))
    return NULL;
  text = g_string_new (count);
  g_string_append (text, chemistry != NULL ? tpt_choice_label (chemistry) : _("cells"));
  if (inline_size != NULL)
    g_string_append_printf (text, " %s", inline_size);
  charge = isnan (mah) ? NULL : tpt_words_number (mah);
  if (charge != NULL)
    g_string_append_printf (text, _(", %s mAh a cell"), charge);
  return g_string_free (text, FALSE);
}
