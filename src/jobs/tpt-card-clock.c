#include "config.h"

#include "tpt-card-clock-private.h"

#include <glib/gi18n-lib.h>

void
tpt_card_pieces_free (TptCardPieces *self)
{
  g_array_unref (self->pieces);
  g_ptr_array_unref (self->texts);
  g_free (self);
}

static const char *
keep (TptCardPieces *self, char *text)
{
  if (text != NULL)
    g_ptr_array_add (self->texts, text);
  return text;
}

TptCardPieces *
tpt_card_pieces_new (TptClockPlan *plan, const char *const *ids, const TptClockSight *sights)
{
  TptCardPieces *self = g_new0 (TptCardPieces, 1);
  g_autoptr (GPtrArray) shifts = tpt_clock_plan_list_shifts (plan, ids);

  self->pieces = g_array_new (FALSE, FALSE, sizeof (TptClockPiece));
  self->texts = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < shifts->len; i++)
    {
      const TptClockShift *shift = shifts->pdata[i];
      const TptClockSight *first = &sights[shift->first];
      TptClockPiece piece = {
        .first_place = (int) shift->first + 1,
        .frames = (int) shift->n,
        .why = keep (self, g_strdup (shift->why)),
        .anchor = keep (self, first->source != TPT_TIME_NONE ? tpt_reading_format (first->reading) : NULL),
        .shift_s = shift->shift_s,
        .drift_s_per_day = shift->drift_s_per_day,
      };

      g_array_append_val (self->pieces, piece);
    }
  return self;
}

void
tpt_card_say_not_done (TptClockPlan *plan, const char *const *ids, GPtrArray *doubts)
{
  GPtrArray *steps = tpt_clock_plan_get_steps (plan);

  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockMend *step = steps->pdata[i];

      if (step->proposed && (ids == NULL || !g_strv_contains (ids, step->id)))
        /* Translators: what could have been done about a camera's clock. */
        g_ptr_array_add (doubts, g_strdup_printf (_("The clock could be put right, and was not: %s"), step->says));
    }
}
