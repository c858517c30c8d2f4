/* A visit sheet on paper. */
#include "config.h"

#include "tpt-visit-sheet-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-log-private.h"
#include "tpt-words.h"

typedef void (*SayFunc) (const TptVisitSheet *self, GPtrArray *lines);

static GPtrArray *
say (const TptVisitSheet *self, SayFunc func)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  func (self, lines);
  return lines;
}

static void
add_section (const TptVisitSheet *self, TptSheet *sheet, const char *heading, SayFunc func)
{
  g_autoptr (GPtrArray) lines = say (self, func);

  tpt_sheet_add_heading (sheet, heading);
  for (guint i = 0; i < lines->len; i++)
    tpt_sheet_add_text (sheet, lines->pdata[i], TPT_VOICE_PLAIN);
}

static void
add_due (const TptVisitSheet *self, TptSheet *sheet)
{
  g_autoptr (GPtrArray) lines = say (self, tpt_visit_sheet_say_due);

  tpt_sheet_add_heading (sheet, _("What is due, and why"));
  tpt_sheet_add_text (sheet, lines->pdata[0], TPT_VOICE_STRONG);
  for (guint i = 1; i < lines->len; i++)
    tpt_sheet_add_text (sheet, lines->pdata[i], TPT_VOICE_PLAIN);
}

static void
add_bring (const TptVisitSheet *self, TptSheet *sheet)
{
  g_autoptr (GPtrArray) lines = say (self, tpt_visit_sheet_say_bring);

  g_ptr_array_add (lines, NULL);
  tpt_sheet_add_heading (sheet, _("Bring"));
  tpt_sheet_add_list (sheet, (const char *const *) lines->pdata, TRUE);
}

/* (transfer container): the labels of a column's choices. */
static const char **
list_labels (TptTableId id, const char *column)
{
  const TptTable *table = tpt_table_get (id);
  const char *const *choices = table->columns[tpt_table_find (table, column)].choices;
  guint n = g_strv_length ((GStrv) choices);
  const char **labels = g_new0 (const char *, n + 1);

  for (guint i = 0; i < n; i++)
    labels[i] = tpt_choice_label (choices[i]);
  return labels;
}

static void
add_arrival (TptSheet *sheet)
{
  const char *const first[] = { _("Arrived (date, time)"), _("Who"), NULL };
  const char *const second[] = { _("Camera’s clock"), _("True time"), _("Frames on card"), NULL };
  g_autofree const char **found = list_labels (TPT_TABLE_VISITS, "found");

  tpt_sheet_add_heading (sheet, _("On arrival"));
  tpt_sheet_add_blanks (sheet, first);
  tpt_sheet_add_choice (sheet, _("Found"), found);
  tpt_sheet_add_blanks (sheet, second);
}

/* What can be done to @unit. Nothing ticked beside a reading means that nothing
 * was, so there is no box for that. */
static const char **
list_actions (const TptSheetUnit *unit)
{
  static const char *const actions[] = { "swapped", "charged", "cleaned", "repaired", "removed" };
  const char *chemistry = tpt_record_get_text (unit->unit, "chemistry");
  gboolean charged = g_strcmp0 (chemistry, "nimh") == 0 || g_strcmp0 (chemistry, "li-ion") == 0 ||
                     g_strcmp0 (chemistry, "lead-acid") == 0;
  const char **labels = g_new0 (const char *, G_N_ELEMENTS (actions) + 1);
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    if (charged || !g_str_equal (actions[i], "charged"))
      labels[n++] = tpt_choice_label (actions[i]);
  return labels;
}

static gboolean
holds_energy (const TptSheetUnit *unit)
{
  return !tpt_sheet_unit_is_kind (unit, "card") && !tpt_sheet_unit_is_kind (unit, "housing") &&
         !tpt_sheet_unit_is_kind (unit, "other");
}

/* Without a label the code is the name, and said once. */
static void
add_unit (const TptVisitSheet *self, TptSheetTable *table, const TptSheetUnit *unit, const char *const *states)
{
  g_autofree const char **actions = list_actions (unit);
  g_autofree char *reading = tpt_visit_sheet_say_reading (self, unit);
  g_autofree char *expected = tpt_visit_sheet_say_expected (self, unit);
  const char *label = tpt_log_unit_label (unit->unit), *code = tpt_record_get_code (unit->unit);
  const char *kind = tpt_choice_label (tpt_record_get_text (unit->unit, "kind"));
  g_autofree char *detail = g_str_equal (label, code) ? g_strdup (kind) : g_strdup_printf ("%s, %s", kind, code);
  gboolean energy = holds_energy (unit);
  const TptSheetCell cells[] = {
    { label, detail, NULL, FALSE }, { expected, reading, NULL, FALSE }, { .boxes = states }, { .closed = !energy },
    { .closed = !energy },          { .boxes = actions },               { NULL },            { NULL },
  };

  tpt_sheet_table_add_row (table, cells);
}

static void
add_units (const TptVisitSheet *self, TptSheet *sheet)
{
  const TptSheetColumn columns[] = {
    { _("Unit"), 31 }, { _("Expected now; last seen"), 28 }, { _("State"), 19 },       { _("Volts"), 14 },
    { _("%"), 12 },    { _("Done"), 38 },                    { _("Replaced by"), 18 }, { _("Notes, cause"), 22 },
  };
  g_autofree const char **states = list_labels (TPT_TABLE_READINGS, "state");
  TptSheetTable *table;

  tpt_sheet_add_heading (sheet, _("Check each unit"));
  if (self->units->len == 0)
    {
      tpt_sheet_add_text (sheet, _("No rig stands here."), TPT_VOICE_PLAIN);
      return;
    }
  table = tpt_sheet_add_table (sheet, columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < self->units->len; i++)
    add_unit (self, table, self->units->pdata[i], states);
}

static void
add_leaving (TptSheet *sheet)
{
  const char *const left[] = { _("Left as"), NULL };
  const char *const notes[] = { _("Notes"), NULL };

  tpt_sheet_add_blanks (sheet, left);
  tpt_sheet_add_blanks (sheet, notes);
  tpt_sheet_add_lines (sheet, 1);
}

static void
add_cautions (const TptVisitSheet *self, TptSheet *sheet)
{
  g_autoptr (GPtrArray) lines = say (self, tpt_visit_sheet_say_cautions);

  g_ptr_array_add (lines, NULL);
  tpt_sheet_add_caution (sheet, _("Take care"), (const char *const *) lines->pdata);
}

void
tpt_visit_sheet_lay (const TptVisitSheet *self, TptSheet *sheet)
{
  g_autofree char *day = tpt_words_date (self->context->until, self->context->zone);
  g_autofree char *below = g_strdup_printf (_("Visit sheet; next round on %s"), day);

  tpt_sheet_begin (sheet, tpt_station_item_get_title (self->item), tpt_station_item_get_code (self->item), below);
  tpt_sheet_begin_columns (sheet);
  add_section (self, sheet, _("Way in"), tpt_visit_sheet_say_place);
  tpt_sheet_next_column (sheet);
  add_section (self, sheet, _("Last visit"), tpt_visit_sheet_say_last_visit);
  tpt_sheet_end_columns (sheet);
  tpt_sheet_begin_columns (sheet);
  add_due (self, sheet);
  tpt_sheet_next_column (sheet);
  add_bring (self, sheet);
  tpt_sheet_end_columns (sheet);
  add_cautions (self, sheet);
  add_arrival (sheet);
  add_units (self, sheet);
  add_leaving (sheet);
}
