#include "config.h"

#include "tpt-visit-plan.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-visit-plan-private.h"

TptVisitLine *
tpt_visit_line_new (TptRecord *reading, const char *cause)
{
  TptVisitLine *self = g_new0 (TptVisitLine, 1);

  self->reading = g_object_ref (reading);
  self->cause = cause != NULL && *cause != '\0' ? g_strdup (cause) : NULL;
  return self;
}

void
tpt_visit_line_free (TptVisitLine *self)
{
  if (self == NULL)
    return;
  g_clear_object (&self->reading);
  g_free (self->cause);
  g_free (self);
}

const char *
tpt_visit_line_get_unit (const TptVisitLine *line)
{
  return tpt_record_get_text (line->reading, "unit");
}

gboolean
tpt_visit_line_did (const TptVisitLine *line, const char *action)
{
  return g_strcmp0 (tpt_record_get_text (line->reading, "action"), action) == 0;
}

const char *
tpt_visit_line_get_successor (const TptVisitLine *line)
{
  const char *other = tpt_record_get_text (line->reading, "replacement");

  return g_strcmp0 (other, tpt_visit_line_get_unit (line)) != 0 ? other : NULL;
}

gboolean
tpt_visit_line_is_renewed (const TptVisitLine *line)
{
  return tpt_visit_line_did (line, "swapped") && !tpt_record_is_set (line->reading, "replacement");
}

static void
free_fault (gpointer data)
{
  TptVisitFault *fault = data;

  g_free (fault->reason);
  g_free (fault);
}

void
tpt_visit_plan_blame (TptVisitPlan *self, int line, const char *column, const char *format, ...)
{
  TptVisitFault *fault = g_new0 (TptVisitFault, 1);
  va_list args;

  va_start (args, format);
  fault->reason = g_strdup_vprintf (format, args);
  va_end (args);
  fault->line = line;
  fault->column = column;
  g_ptr_array_add (self->faults, fault);
}

void
tpt_visit_plan_warn (TptVisitPlan *self, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (self->warnings, g_strdup_vprintf (format, args));
  va_end (args);
}

void
tpt_visit_plan_note (TptVisitPlan *self, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_ptr_array_add (self->moves, g_strdup_vprintf (format, args));
  va_end (args);
}

static TptInstant
get_at (TptVisitPlan *self)
{
  return tpt_record_get_instant (self->visit, "at");
}

/* A line that says nothing about the unit but why it is gone has no reading. */
static void
add_reading (TptVisitPlan *self, const TptVisitLine *line)
{
  static const char *const said[] = { "state", "volts", "percent", "action", "notes" };
  g_autoptr (TptRecord) reading = tpt_record_copy (line->reading);
  gboolean any = FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (said); i++)
    any |= tpt_record_is_set (reading, said[i]);
  if (!any)
    return;
  if (tpt_visit_line_get_successor (line) == NULL)
    tpt_record_set_text (reading, "replacement", NULL);
  self->n_readings++;
  g_ptr_array_add (self->records, g_steal_pointer (&reading));
}

static void
end_fitting (TptVisitPlan *self, TptRecord *fitting)
{
  g_autoptr (TptRecord) ended = tpt_record_copy (fitting);

  tpt_record_set_instant (ended, "to", get_at (self));
  g_ptr_array_add (self->records, g_steal_pointer (&ended));
}

/* The new one stays as long as the old one did, on a visit told late. */
static void
begin_fitting (TptVisitPlan *self, TptRecord *old, const char *unit)
{
  g_autoptr (TptRecord) fitting = tpt_record_new (TPT_TABLE_FITTINGS);

  tpt_record_set_text (fitting, "deployment", tpt_record_get_text (old, "deployment"));
  tpt_record_set_text (fitting, "unit", unit);
  tpt_record_set_instant (fitting, "from", get_at (self));
  tpt_record_set_instant (fitting, "to", tpt_record_get_instant (old, "to"));
  g_ptr_array_add (self->records, g_steal_pointer (&fitting));
}

static const char *
judge_harm (TptVisitPlan *self, const TptVisitLine *line)
{
  const char *state = tpt_record_get_text (line->reading, "state");

  if (g_strcmp0 (state, "dead") == 0)
    return "failure";
  return state == NULL && g_strcmp0 (tpt_record_get_text (self->visit, "found"), "gone") == 0 ? "loss" : "damage";
}

static gboolean
is_lost (TptVisitPlan *self, const TptVisitLine *line)
{
  return line->cause != NULL && tpt_visit_line_did (line, "removed") && g_str_equal (judge_harm (self, line), "loss");
}

static void
add_log_entry (TptVisitPlan *self, const TptVisitLine *line)
{
  g_autoptr (TptRecord) entry = NULL;
  g_autofree char *cause = NULL;
  const char *what = judge_harm (self, line);

  if (line->cause == NULL)
    return;
  cause = tpt_choice_inline (line->cause);
  entry = tpt_record_new (TPT_TABLE_UNIT_LOG);
  tpt_record_set_text (entry, "unit", tpt_visit_line_get_unit (line));
  tpt_record_set_instant (entry, "at", get_at (self));
  tpt_record_set_text (entry, "what", what);
  tpt_record_set_text (entry, "cause", line->cause);
  tpt_record_set_text (entry, "by", tpt_record_get_text (self->visit, "people"));
  tpt_record_set_text (entry, "notes", tpt_record_get_text (line->reading, "notes"));
  g_ptr_array_add (self->records, g_steal_pointer (&entry));
  if (g_str_equal (what, "failure"))
    tpt_visit_plan_note (self, _("%s failed (%s)"), tpt_visit_line_get_unit (line), cause);
  else if (g_str_equal (what, "loss"))
    tpt_visit_plan_note (self, _("%s lost (%s)"), tpt_visit_line_get_unit (line), cause);
  else
    tpt_visit_plan_note (self, _("%s damaged (%s)"), tpt_visit_line_get_unit (line), cause);
}

static void
retire (TptVisitPlan *self, const TptVisitLine *line)
{
  g_autoptr (TptRecord) unit = tpt_record_copy (tpt_visit_facts_find_unit (self->facts, tpt_visit_line_get_unit (line)));
  g_autofree char *day = tpt_instant_format (get_at (self), self->facts->zone);

  day[strlen ("2026-05-14")] = '\0';
  tpt_record_set_text (unit, "retired", day);
  tpt_record_set_text (unit, "retire_cause", line->cause);
  g_ptr_array_add (self->records, g_steal_pointer (&unit));
}

static void
move_unit (TptVisitPlan *self, const TptVisitLine *line)
{
  const char *code = tpt_visit_line_get_unit (line), *successor = tpt_visit_line_get_successor (line);
  TptRecord *fitting = tpt_visit_facts_find_fitting (self->facts, code);

  if (tpt_visit_line_is_renewed (line))
    tpt_visit_plan_take_stock (self, tpt_visit_facts_find_unit (self->facts, code));
  if (successor != NULL)
    {
      end_fitting (self, fitting);
      begin_fitting (self, fitting, successor);
      tpt_visit_plan_note (self, _("%s out and %s in"), code, successor);
    }
  else if (tpt_visit_line_did (line, "removed") && !self->bring_in)
    {
      end_fitting (self, fitting);
      if (!is_lost (self, line))
        tpt_visit_plan_note (self, _("%s out"), code);
    }
  if (is_lost (self, line))
    retire (self, line);
}

static void
end_deployment (TptVisitPlan *self)
{
  const TptVisitFacts *facts = self->facts;
  g_autoptr (TptRecord) ended = NULL;

  if (!self->bring_in)
    return;
  for (guint i = 0; i < facts->rig->len; i++)
    end_fitting (self, facts->rig->pdata[i]);
  ended = tpt_record_copy (facts->deployment);
  tpt_record_set_instant (ended, "end", get_at (self));
  g_ptr_array_add (self->records, g_steal_pointer (&ended));
  tpt_visit_plan_note (self, ngettext ("%u unit comes in and the rig ends", "%u units come in and the rig ends", facts->rig->len),
                       facts->rig->len);
}

static void
fill (TptVisitPlan *self)
{
  g_ptr_array_add (self->records, g_object_ref (self->visit));
  for (guint i = 0; i < self->lines->len; i++)
    add_reading (self, self->lines->pdata[i]);
  for (guint i = 0; i < self->lines->len; i++)
    {
      move_unit (self, self->lines->pdata[i]);
      add_log_entry (self, self->lines->pdata[i]);
    }
  end_deployment (self);
  for (guint i = 0; i < self->stock->len; i++)
    g_ptr_array_add (self->records, g_object_ref (self->stock->pdata[i]));
}

TptVisitPlan *
tpt_visit_plan_new (const TptVisitFacts *facts, TptRecord *visit, GPtrArray *lines, gboolean bring_in)
{
  TptVisitPlan *self = g_new0 (TptVisitPlan, 1);

  self->facts = facts;
  self->visit = tpt_record_copy (visit);
  self->lines = lines;
  self->bring_in = bring_in;
  self->faults = g_ptr_array_new_with_free_func (free_fault);
  self->warnings = g_ptr_array_new_with_free_func (g_free);
  self->records = g_ptr_array_new_with_free_func (g_object_unref);
  self->stock = g_ptr_array_new_with_free_func (g_object_unref);
  self->moves = g_ptr_array_new_with_free_func (g_free);
  tpt_visit_plan_check (self);
  if (self->faults->len == 0)
    fill (self);
  self->facts = NULL;
  self->lines = NULL;
  return self;
}

void
tpt_visit_plan_free (TptVisitPlan *self)
{
  if (self == NULL)
    return;
  g_clear_object (&self->visit);
  g_ptr_array_unref (self->faults);
  g_ptr_array_unref (self->warnings);
  g_ptr_array_unref (self->records);
  g_ptr_array_unref (self->stock);
  g_ptr_array_unref (self->moves);
  g_free (self);
}

GPtrArray *
tpt_visit_plan_get_faults (TptVisitPlan *self)
{
  return self->faults;
}

GPtrArray *
tpt_visit_plan_get_warnings (TptVisitPlan *self)
{
  return self->warnings;
}

GPtrArray *
tpt_visit_plan_get_records (TptVisitPlan *self)
{
  return self->records;
}
