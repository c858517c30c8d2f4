#include "tpt-popovers.h"

gboolean
tpt_popovers_any_up (GtkWidget *widget)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    if (GTK_IS_POPOVER (at) && gtk_widget_get_mapped (at))
      return TRUE;
  return FALSE;
}
