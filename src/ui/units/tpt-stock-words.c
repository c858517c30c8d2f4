#include "config.h"

#include "tpt-stock-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

static const char *
name_goods (const char *what)
{
  static const struct {
    const char *what;
    const char *name;
  } names[] = {
    { "cells", N_("Cells") }, { "card", N_("Cards") },   { "housing", N_("Housings") },
    { "desiccant", N_("Desiccant") }, { "tape", N_("Tape") }, { "other", N_("Other") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_strcmp0 (names[i].what, what) == 0)
      return _(names[i].name);
  return _("Other");
}

static void
add_part (GString *text, char *part /* (transfer full) */)
{
  g_string_append_printf (text, ", %s", part);
  g_free (part);
}

static void
add_number (GString *text, const char *format, double number)
{
  g_autofree char *digits = tpt_words_number (number);
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

  add_part (text, g_strjoinv (digits, parts));
}

char *
tpt_stock_words (TptRecord *item)
{
  const char *what = tpt_record_get_text (item, "what"), *label = tpt_record_get_text (item, "label");
  const char *size = tpt_record_get_text (item, "cell_size"), *chemistry = tpt_record_get_text (item, "chemistry");
  double mah = tpt_record_get_real (item, "cell_mah"), gigabytes = tpt_record_get_real (item, "capacity_gb");
  g_autofree char *inline_size = size != NULL ? tpt_choice_inline (size) : NULL;
  GString *text = g_string_new (label != NULL ? label : "");

  if (label == NULL && size != NULL)
    /* Translators: the size of cells: "AA cells". */
    g_string_append_printf (text, _("%s cells"), inline_size);
  else if (label == NULL)
    g_string_append (text, name_goods (what));
  else if (size != NULL)
    add_part (text, g_steal_pointer (&inline_size));
  if (chemistry != NULL)
    add_part (text, tpt_choice_inline (chemistry));
  if (!isnan (mah))
    add_number (text, _("%s mAh"), mah);
  if (!isnan (gigabytes))
    add_number (text, _("%s GB"), gigabytes);
  return g_string_free (text, FALSE);
}
