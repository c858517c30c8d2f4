#include "tpt-search.h"

/* (transfer none) (nullable) */
static GtkWidget *
find_below (GtkWidget *widget, GType type)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (at, type) ? at : find_below (at, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* (transfer none) (nullable): the filter between the drop-down's model and the
 * list it shows. */
static GtkStringFilter *
find_filter (GtkDropDown *choice)
{
  GtkWidget *view = find_below (GTK_WIDGET (choice), GTK_TYPE_LIST_VIEW);
  GtkSelectionModel *selection = view != NULL ? gtk_list_view_get_model (GTK_LIST_VIEW (view)) : NULL;
  GListModel *model = GTK_IS_SINGLE_SELECTION (selection) ? gtk_single_selection_get_model (GTK_SINGLE_SELECTION (selection)) : NULL;
  GtkFilter *filter = GTK_IS_FILTER_LIST_MODEL (model) ? gtk_filter_list_model_get_filter (GTK_FILTER_LIST_MODEL (model)) : NULL;

  return GTK_IS_STRING_FILTER (filter) ? GTK_STRING_FILTER (filter) : NULL;
}

/* Once the list is up; before that it takes the focus itself. */
static gboolean
focus_cb (gpointer data)
{
  if (gtk_widget_get_mapped (data))
    gtk_widget_grab_focus (data);
  return G_SOURCE_REMOVE;
}

static void
shown_cb (GtkWidget *entry)
{
  g_idle_add_full (G_PRIORITY_DEFAULT_IDLE, focus_cb, g_object_ref (entry), g_object_unref);
}

/* GTK 4.8 leaves the focus on the list, so that what is typed goes nowhere. */
static void
focus_entry (GtkDropDown *choice)
{
  GtkWidget *popover = find_below (GTK_WIDGET (choice), GTK_TYPE_POPOVER);
  GtkWidget *entry = popover != NULL ? find_below (popover, GTK_TYPE_SEARCH_ENTRY) : NULL;

  if (entry == NULL)
    return;
  g_signal_handlers_disconnect_by_func (popover, shown_cb, entry);
  g_signal_connect_object (popover, "map", G_CALLBACK (shown_cb), entry, G_CONNECT_SWAPPED);
}

void
tpt_search_anywhere (GtkDropDown *choice)
{
  g_autoptr (GtkExpression) name = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");
  GtkStringFilter *filter;

  gtk_drop_down_set_expression (choice, name);
  gtk_drop_down_set_enable_search (choice, TRUE);
  focus_entry (choice);
  /* GTK 4.8 only looks at the start of a name and has no property for it. Where
   * the inside of the widget is another, it stays at that. */
  filter = find_filter (choice);
  if (filter != NULL)
    gtk_string_filter_set_match_mode (filter, GTK_STRING_FILTER_MATCH_MODE_SUBSTRING);
}
