#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-visit-plan-private.h"

/* What a renewed unit took: so many pieces of one kind. */
typedef struct {
  const char *what;
  const char *size, *chemistry; /* (nullable): of cells */
  double gb;                    /* of a card; NAN when it is not known */
  gint64 pieces;
  const char *unit;
} Need;

static gboolean
is_match (TptRecord *stock, const Need *need)
{
  if (g_strcmp0 (tpt_record_get_text (stock, "what"), need->what) != 0)
    return FALSE;
  if (g_str_equal (need->what, "card"))
    return !tpt_record_is_set (stock, "capacity_gb") || isnan (need->gb) || tpt_record_get_real (stock, "capacity_gb") == need->gb;
  return g_strcmp0 (tpt_record_get_text (stock, "cell_size"), need->size) == 0 &&
         g_strcmp0 (tpt_record_get_text (stock, "chemistry"), need->chemistry) == 0;
}

/* The count as this visit has left it so far. */
static TptRecord *
find_count (TptVisitPlan *self, TptRecord *stock)
{
  for (guint i = 0; i < self->stock->len; i++)
    if (tpt_record_get_id (self->stock->pdata[i]) == tpt_record_get_id (stock))
      return self->stock->pdata[i];
  g_ptr_array_add (self->stock, tpt_record_copy (stock));
  return self->stock->pdata[self->stock->len - 1];
}

static char *
name_pieces (const Need *need)
{
  g_autofree char *size = need->size != NULL ? tpt_choice_inline (need->size) : NULL;
  g_autofree char *chemistry = need->chemistry != NULL ? tpt_choice_inline (need->chemistry) : NULL;

  if (g_str_equal (need->what, "card"))
    return g_strdup (ngettext ("card", "cards", need->pieces));
  if (g_strcmp0 (need->size, "block") == 0)
    return g_strdup_printf (ngettext ("%s block", "%s blocks", need->pieces), chemistry);
  return g_strdup_printf (_("%s %s"), size, chemistry);
}

/* Never below nought: what the count does not have was taken all the same. */
static gint64
take (TptVisitPlan *self, const Need *need, gint64 *left, gboolean *kept)
{
  gint64 lacking = need->pieces;

  *left = 0;
  *kept = FALSE;
  for (guint i = 0; i < self->facts->stock->len; i++)
    {
      TptRecord *count;
      gint64 there, taken;

      if (!is_match (self->facts->stock->pdata[i], need))
        continue;
      count = find_count (self, self->facts->stock->pdata[i]);
      there = tpt_record_get_integer (count, "pieces", 0);
      taken = MIN (there, lacking);
      tpt_record_set_integer (count, "pieces", there - taken);
      lacking -= taken;
      *left += there - taken;
      *kept = TRUE;
    }
  return lacking;
}

static void
take_off_shelf (TptVisitPlan *self, const Need *need)
{
  g_autofree char *pieces = name_pieces (need);
  gboolean kept;
  gint64 left, lacking = take (self, need, &left, &kept);

  if (!kept) /* nobody counts these */
    {
      tpt_visit_plan_note (self, _("%d %s into %s, not counted on the shelf"), (int) need->pieces, pieces, need->unit);
      return;
    }
  tpt_visit_plan_note (self, g_str_equal (need->what, "card") ? _("%d %s from the shelf in place of %s (%d left)")
                                                              : _("%d %s from the shelf into %s (%d left)"), (int) need->pieces, pieces, need->unit, (int) left);
  if (lacking > 0)
    tpt_visit_plan_warn (self, _("The shelf had only %d of the %d %s that went into %s; its count is 0 now."),
                         (int) (need->pieces - lacking), (int) need->pieces, pieces, need->unit);
}

static gboolean
counts_cells (TptVisitPlan *self)
{
  for (guint i = 0; i < self->facts->stock->len; i++)
    if (g_strcmp0 (tpt_record_get_text (self->facts->stock->pdata[i], "what"), "cells") == 0)
      return TRUE;
  return FALSE;
}

static gboolean
has_cells (TptRecord *unit)
{
  return tpt_record_is_set (unit, "chemistry") || tpt_record_is_set (unit, "cells_series") || tpt_record_is_set (unit, "cell_size");
}

static void
take_cells (TptVisitPlan *self, TptRecord *unit)
{
  Need need = { "cells", tpt_record_get_text (unit, "cell_size"), tpt_record_get_text (unit, "chemistry"), NAN, 0, tpt_record_get_code (unit) };

  if (!has_cells (unit))
    return;
  if (need.size == NULL || need.chemistry == NULL || !tpt_record_is_set (unit, "cells_series"))
    {
      tpt_visit_plan_note (self, _("fresh cells in %s"), need.unit);
      if (counts_cells (self))
        tpt_visit_plan_warn (self, _("Which cells %s takes, and how many, is not on record: the shelf keeps its count."), need.unit);
      return;
    }
  /* The cells of a block are in it for good: it is one piece. */
  need.pieces = (g_str_equal (need.size, "block") ? 1 : tpt_record_get_integer (unit, "cells_series", 1)) *
                tpt_record_get_integer (unit, "cells_parallel", 1);
  take_off_shelf (self, &need);
}

/* A swapped card that nobody named comes from the shelf only where cards lie
 * there by the piece. */
static void
take_card (TptVisitPlan *self, TptRecord *unit)
{
  Need need = { "card", NULL, NULL, tpt_record_get_real (unit, "capacity_gb"), 1, tpt_record_get_code (unit) };

  for (guint i = 0; i < self->facts->stock->len; i++)
    if (is_match (self->facts->stock->pdata[i], &need))
      {
        take_off_shelf (self, &need);
        return;
      }
}

void
tpt_visit_plan_take_stock (TptVisitPlan *self, TptRecord *unit)
{
  if (g_strcmp0 (tpt_record_get_text (unit, "kind"), "card") == 0)
    take_card (self, unit);
  else
    take_cells (self, unit);
}
