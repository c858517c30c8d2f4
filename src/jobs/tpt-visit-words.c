#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-visit-plan-private.h"

char *
tpt_visit_plan_describe (TptVisitPlan *self)
{
  GString *text = g_string_new (NULL);

  if (self->n_readings == 0)
    g_string_append (text, _("Saves the visit without readings"));
  else
    g_string_append_printf (text, ngettext ("Saves the visit and %u reading", "Saves the visit and %u readings", self->n_readings),
                            self->n_readings);
  for (guint i = 0; i < self->moves->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? ": " : "; ", (char *) self->moves->pdata[i]);
  g_string_append (text, ".");
  return g_string_free (text, FALSE);
}
