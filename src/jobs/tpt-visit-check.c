#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-visit-plan-private.h"
#include "tpt-words.h"

static char *
say_moment (TptVisitPlan *self, TptInstant moment)
{
  return tpt_words_instant (moment, self->facts->zone);
}

static void
check_rig (TptVisitPlan *self)
{
  const TptVisitFacts *facts = self->facts;
  const char *station = tpt_record_get_code (facts->station);
  g_autofree char *start = facts->next_start != TPT_NO_INSTANT ? say_moment (self, facts->next_start) : NULL;

  if (self->lines->len > 0 || self->bring_in)
    {
      if (start != NULL)
        tpt_visit_plan_blame (self, -1, "at", _("no rig stood at %s then; one was set out on %s"), station, start);
      else
        tpt_visit_plan_blame (self, -1, "at", _("no rig stood at %s then"), station);
    }
  else if (start != NULL)
    tpt_visit_plan_warn (self, _("No rig stood here then; one was set out on %s."), start);
}

static void
check_bring_in (TptVisitPlan *self)
{
  TptInstant end = tpt_record_get_instant (self->facts->deployment, "end"), later = self->facts->last_visit;
  g_autofree char *when = end != TPT_NO_INSTANT ? say_moment (self, end) : later != TPT_NO_INSTANT ? say_moment (self, later) : NULL;

  if (end != TPT_NO_INSTANT)
    tpt_visit_plan_blame (self, -1, "at", _("this rig is on record as brought in on %s"), when);
  else if (when != NULL)
    tpt_visit_plan_blame (self, -1, "at", _("a visit to this rig on %s is on record; it cannot have come in before"), when);
}

static void
check_visit (TptVisitPlan *self)
{
  g_autofree char *now = say_moment (self, self->facts->now);

  if (!tpt_record_is_set (self->visit, "at"))
    {
      tpt_visit_plan_blame (self, -1, "at", _("this is needed and is empty"));
      return;
    }
  if (tpt_record_get_instant (self->visit, "at") > self->facts->now)
    tpt_visit_plan_blame (self, -1, "at", _("this lies in the future; it is %s now"), now);
  else if (self->facts->recorded)
    tpt_visit_plan_blame (self, -1, "at", _("a visit here at that very moment is on record already"));
  else if (self->facts->deployment == NULL)
    check_rig (self);
  else if (self->bring_in)
    check_bring_in (self);
}

/* What each record must be by itself; its code and visit come with the saving. */
static void
check_record (TptVisitPlan *self, int line, TptRecord *record, const char *filled)
{
  g_autoptr (TptRecord) copy = tpt_record_copy (record);
  g_autoptr (GError) error = NULL;
  const char *column = filled;

  if (!tpt_record_is_set (copy, filled))
    tpt_record_set_text (copy, filled, "x");
  if (!tpt_record_check (copy, &column, &error))
    tpt_visit_plan_blame (self, line, column, "%s", error->message);
}

/* Where else the unit is: told, because that is the first thing to ask. */
static void
blame_stranger (TptVisitPlan *self, int line, const char *code)
{
  TptRecord *elsewhere = tpt_visit_facts_find_hindrance (self->facts, code, TPT_NO_INSTANT);
  const char *station =
    elsewhere != NULL ? g_hash_table_lookup (self->facts->places, tpt_record_get_text (elsewhere, "deployment")) : NULL;

  if (tpt_visit_facts_find_unit (self->facts, code) == NULL)
    tpt_visit_plan_blame (self, line, "unit", _("there is no unit “%s” in this project"), code);
  else if (elsewhere != NULL && tpt_record_get_instant (elsewhere, "from") <= self->facts->at)
    tpt_visit_plan_blame (self, line, "unit", _("“%s” was not in this rig then; it was at %s"), code, station);
  else
    tpt_visit_plan_blame (self, line, "unit", _("“%s” was not in this rig then"), code);
}

static void
check_unit (TptVisitPlan *self, guint index)
{
  const char *code = tpt_visit_line_get_unit (self->lines->pdata[index]);

  if (code == NULL)
    {
      tpt_visit_plan_blame (self, index, "unit", _("this is needed and is empty"));
      return;
    }
  for (guint i = 0; i < index; i++)
    if (g_strcmp0 (tpt_visit_line_get_unit (self->lines->pdata[i]), code) == 0)
      {
        tpt_visit_plan_blame (self, index, "unit", _("“%s” is named twice on this visit"), code);
        return;
      }
  if (self->facts->deployment != NULL && tpt_visit_facts_find_fitting (self->facts, code) == NULL)
    blame_stranger (self, index, code);
}

static gboolean
is_taken_before (TptVisitPlan *self, guint index, const char *successor)
{
  for (guint i = 0; i < index; i++)
    if (g_strcmp0 (tpt_visit_line_get_successor (self->lines->pdata[i]), successor) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
check_same_kind (TptVisitPlan *self, guint index, TptRecord *unit, TptRecord *successor)
{
  const char *kind = tpt_record_get_text (unit, "kind"), *other = tpt_record_get_text (successor, "kind");
  g_autofree char *wanted = tpt_choice_inline (kind), *got = tpt_choice_inline (other);

  if (g_strcmp0 (kind, other) == 0)
    return TRUE;
  tpt_visit_plan_blame (self, index, "replacement", _("“%s” is a thing of another kind (%s) than “%s” (%s)"),
                        tpt_record_get_code (successor), got, tpt_record_get_code (unit), wanted);
  return FALSE;
}

static void
check_free (TptVisitPlan *self, guint index, TptRecord *successor, TptRecord *fitting)
{
  const char *code = tpt_record_get_code (successor), *retired = tpt_record_get_text (successor, "retired");
  TptRecord *hindrance = tpt_visit_facts_find_hindrance (self->facts, code, tpt_record_get_instant (fitting, "to"));
  g_autofree char *day = tpt_instant_format (self->facts->at, self->facts->zone), *since = NULL;

  if (tpt_visit_facts_find_fitting (self->facts, code) != NULL)
    tpt_visit_plan_blame (self, index, "replacement", _("“%s” is in this rig already"), code);
  else if (is_taken_before (self, index, code))
    tpt_visit_plan_blame (self, index, "replacement", _("“%s” is put in twice on this visit"), code);
  else if (hindrance != NULL)
    {
      since = say_moment (self, tpt_record_get_instant (hindrance, "from"));
      tpt_visit_plan_blame (self, index, "replacement", _("“%s” is at %s since %s"), code,
                            (char *) g_hash_table_lookup (self->facts->places, tpt_record_get_text (hindrance, "deployment")), since);
    }
  else if (retired != NULL && strncmp (retired, day, strlen ("2026-05-14")) <= 0)
    tpt_visit_plan_blame (self, index, "replacement", _("“%s” was retired on %s"), code, retired);
}

static void
check_successor (TptVisitPlan *self, guint index)
{
  const TptVisitLine *line = self->lines->pdata[index];
  const char *code = tpt_visit_line_get_unit (line), *successor = tpt_visit_line_get_successor (line);
  TptRecord *unit = tpt_visit_facts_find_unit (self->facts, code), *fitting = tpt_visit_facts_find_fitting (self->facts, code);
  TptRecord *other = successor != NULL ? tpt_visit_facts_find_unit (self->facts, successor) : NULL;

  if (successor == NULL || fitting == NULL)
    return;
  if (self->bring_in)
    tpt_visit_plan_blame (self, index, "replacement", _("the rig comes in: nothing goes in the place of “%s”"), code);
  else if (other == NULL)
    tpt_visit_plan_blame (self, index, "replacement", _("there is no unit “%s” in this project"), successor);
  else if (check_same_kind (self, index, unit, other))
    check_free (self, index, other, fitting);
}

/* A visit told late cannot take out what later visits still saw here. */
static void
check_later (TptVisitPlan *self, guint index)
{
  const TptVisitLine *line = self->lines->pdata[index];
  const char *code = tpt_visit_line_get_unit (line);
  const gint64 *seen = code != NULL ? g_hash_table_lookup (self->facts->later, code) : NULL;
  g_autofree char *when = seen != NULL ? say_moment (self, *seen) : NULL;

  if (seen != NULL && (tpt_visit_line_did (line, "removed") || tpt_visit_line_get_successor (line) != NULL))
    tpt_visit_plan_blame (self, index, "action", _("“%s” was still seen here on %s; put that visit right first"), code, when);
}

static void
check_cause (TptVisitPlan *self, guint index)
{
  const TptTable *log = tpt_table_get (TPT_TABLE_UNIT_LOG);
  const char *cause = ((TptVisitLine *) self->lines->pdata[index])->cause;

  if (cause != NULL && !g_strv_contains (log->columns[tpt_table_find (log, "cause")].choices, cause))
    tpt_visit_plan_blame (self, index, "cause", _("“%s” is no cause known here"), cause);
}

void
tpt_visit_plan_check (TptVisitPlan *self)
{
  check_record (self, -1, self->visit, "visit");
  if (self->faults->len == 0)
    check_visit (self);
  for (guint i = 0; i < self->lines->len; i++)
    {
      const TptVisitLine *line = self->lines->pdata[i];
      guint before = self->faults->len;

      check_unit (self, i);
      if (self->faults->len == before)
        check_record (self, i, line->reading, "visit");
      if (self->faults->len != before)
        continue;
      check_successor (self, i);
      check_later (self, i);
      check_cause (self, i);
    }
}
