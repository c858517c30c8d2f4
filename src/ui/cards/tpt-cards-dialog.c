#include "config.h"

#include "tpt-cards-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-page.h"
#include "tpt-card-row.h"
#include "tpt-cards-private.h"
#include "tpt-style.h"

G_DEFINE_FINAL_TYPE (TptCardsDialog, tpt_cards_dialog, ADW_TYPE_WINDOW)

TptCard *
tpt_cards_get_selected (TptCardsDialog *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->list);

  return row != NULL ? tpt_card_row_get_card (TPT_CARD_ROW (row)) : NULL;
}

/* (transfer none) (nullable): a card that was taken in and pulled leaves its
 * place to the next. */
static TptCard *
find_card (TptCardsDialog *self, const char *folder)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->cards)); i++)
    {
      g_autoptr (TptCard) card = g_list_model_get_item (G_LIST_MODEL (self->cards), i);

      if (g_str_equal (tpt_card_get_folder (card), folder)
          && (tpt_card_get_there (card) || tpt_card_get_state (card) != TPT_CARD_TAKEN))
        return card; /* the list keeps it */
    }
  return NULL;
}

static GtkListBoxRow *
find_row (TptCardsDialog *self, TptCard *card)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (self->list, i)) != NULL; i++)
    if (tpt_card_row_get_card (TPT_CARD_ROW (row)) == card)
      return row;
  return NULL;
}

static GtkWidget *
find_page (TptCardsDialog *self, TptCard *card)
{
  for (GtkWidget *page = gtk_widget_get_first_child (GTK_WIDGET (self->pages)); page != NULL; page = gtk_widget_get_next_sibling (page))
    if (tpt_card_page_get_card (TPT_CARD_PAGE (page)) == card)
      return page;
  return NULL;
}

static void
selected_cb (TptCardsDialog *self)
{
  TptCard *card;
  GtkWidget *page;

  if (self->project == NULL) /* closed; the list is being taken apart */
    return;
  card = tpt_cards_get_selected (self);
  page = card != NULL ? find_page (self, card) : NULL;
  if (page != NULL)
    gtk_stack_set_visible_child (self->pages, page);
  tpt_cards_update (self);
}

static void
show_content (TptCardsDialog *self)
{
  gboolean any = g_list_model_get_n_items (G_LIST_MODEL (self->cards)) > 0;

  gtk_stack_set_visible_child_name (self->content, any ? "cards" : "none");
}

/* The row beside it takes its place, and the focus with it. */
static void
leave_out (TptCardsDialog *self, TptCard *card)
{
  GtkListBoxRow *row = find_row (self, card);
  int at = gtk_list_box_row_get_index (row);
  gboolean chosen = gtk_list_box_row_is_selected (row);
  guint position;

  tpt_card_stop (card);
  g_signal_handlers_disconnect_by_data (card, self);
  if (g_list_store_find (self->cards, card, &position))
    g_list_store_remove (self->cards, position);
  gtk_list_box_remove (self->list, GTK_WIDGET (row));
  gtk_stack_remove (self->pages, find_page (self, card));
  row = gtk_list_box_get_row_at_index (self->list, at);
  if (row == NULL && at > 0)
    row = gtk_list_box_get_row_at_index (self->list, at - 1);
  if (chosen && row != NULL)
    {
      gtk_list_box_select_row (self->list, row);
      gtk_widget_grab_focus (GTK_WIDGET (row));
    }
  show_content (self);
  tpt_cards_update (self);
}

static void
leave_out_cb (TptCardsDialog *self, TptCardRow *row)
{
  g_autoptr (TptCard) card = g_object_ref (tpt_card_row_get_card (row));

  leave_out (self, card);
}

static TptCard *
add_card (TptCardsDialog *self, const char *folder, const char *title)
{
  g_autoptr (TptCard) card = tpt_card_new (self->project, folder, title);
  GtkWidget *row = tpt_card_row_new (card);

  tpt_card_set_station (card, self->station);
  g_list_store_append (self->cards, card);
  gtk_stack_add_child (self->pages, tpt_card_page_new (card));
  gtk_list_box_append (self->list, row);
  g_signal_connect_object (row, "leave-out", G_CALLBACK (leave_out_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (card, "changed", G_CALLBACK (tpt_cards_update), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (card, "progress", G_CALLBACK (tpt_cards_update_progress), self, G_CONNECT_SWAPPED);
  if (gtk_list_box_get_selected_row (self->list) == NULL)
    gtk_list_box_select_row (self->list, GTK_LIST_BOX_ROW (row));
  show_content (self);
  tpt_card_look (card);
  return card; /* the list keeps it */
}

TptCard *
tpt_cards_dialog_add (TptCardsDialog *self, const char *folder, const char *title)
{
  g_autofree char *whole = g_canonicalize_filename (folder, NULL);
  TptCard *card = find_card (self, whole);

  if (card == NULL)
    return add_card (self, whole, title);
  tpt_card_set_there (card, TRUE);
  return card;
}

/* What somebody gave is what they want to see. */
static void
add_given (TptCardsDialog *self, const char *folder)
{
  GtkListBoxRow *row = find_row (self, tpt_cards_dialog_add (self, folder, NULL));

  gtk_list_box_select_row (self->list, row);
  gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
mounted_cb (TptCardsDialog *self, const char *folder, const char *name)
{
  tpt_cards_dialog_add (self, folder, name);
}

/* One that was begun waits for its card to come back. */
static void
unmounted_cb (TptCardsDialog *self, const char *folder)
{
  TptCard *found = find_card (self, folder);
  g_autoptr (TptCard) card = found != NULL ? g_object_ref (found) : NULL;
  TptCardState state;

  if (card == NULL)
    return;
  state = tpt_card_get_state (card);
  if (state == TPT_CARD_LOOKING || state == TPT_CARD_UNREAD || state == TPT_CARD_READY)
    leave_out (self, card);
  else
    tpt_card_set_there (card, FALSE);
}

static void
chosen_cb (TptCardsDialog *self, int response)
{
  g_autoptr (GListModel) files = NULL;

  if (response != GTK_RESPONSE_ACCEPT)
    return;
  files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (self->chooser));
  for (guint i = 0; i < g_list_model_get_n_items (files); i++)
    {
      g_autoptr (GFile) file = g_list_model_get_item (files, i);

      if (g_file_peek_path (file) != NULL)
        add_given (self, g_file_peek_path (file));
    }
}

static void
choose_cb (TptCardsDialog *self)
{
  g_clear_object (&self->chooser);
  self->chooser = gtk_file_chooser_native_new (_("Cards’ folders"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER,
                                               _("_Add"), NULL);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (self->chooser), TRUE);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static gboolean
choose_shortcut_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  choose_cb (TPT_CARDS_DIALOG (widget));
  return TRUE;
}

static gboolean
take_shortcut_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  TptCardsDialog *self = TPT_CARDS_DIALOG (widget);

  if (gtk_widget_get_visible (GTK_WIDGET (self->take)) && gtk_widget_get_sensitive (GTK_WIDGET (self->take)))
    tpt_cards_take_all (self);
  return TRUE;
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, TptCardsDialog *self)
{
  GSList *files = gdk_file_list_get_files (g_value_get_boxed (value));
  gboolean any = FALSE;

  for (GSList *at = files; at != NULL; at = at->next)
    {
      const char *path = g_file_peek_path (at->data);

      if (path == NULL || !g_file_test (path, G_FILE_TEST_IS_DIR))
        continue;
      add_given (self, path);
      any = TRUE;
    }
  g_slist_free (files);
  return any;
}

/* The first close stops a run and leaves the window to tell what came of it. */
static gboolean
tpt_cards_dialog_close_request (GtkWindow *window)
{
  TptCardsDialog *self = TPT_CARDS_DIALOG (window);

  if (!tpt_cards_is_running (self))
    return GTK_WINDOW_CLASS (tpt_cards_dialog_parent_class)->close_request (window);
  tpt_cards_stop (self);
  return TRUE;
}

/* Closing ends here. It cannot wait for dispose: what is under way holds its
 * card until it has answered. */
static void
tpt_cards_dialog_unrealize (GtkWidget *widget)
{
  TptCardsDialog *self = TPT_CARDS_DIALOG (widget);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->cards)); i++)
    {
      g_autoptr (TptCard) card = g_list_model_get_item (G_LIST_MODEL (self->cards), i);

      g_signal_handlers_disconnect_by_data (card, self);
      tpt_card_stop (card);
    }
  g_clear_object (&self->project);

  GTK_WIDGET_CLASS (tpt_cards_dialog_parent_class)->unrealize (widget);
}

static void
tpt_cards_dialog_dispose (GObject *object)
{
  TptCardsDialog *self = TPT_CARDS_DIALOG (object);

  g_clear_object (&self->project);
  g_clear_object (&self->sources);
  g_clear_object (&self->chooser);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_CARDS_DIALOG);

  G_OBJECT_CLASS (tpt_cards_dialog_parent_class)->dispose (object);
}

static void
tpt_cards_dialog_finalize (GObject *object)
{
  TptCardsDialog *self = TPT_CARDS_DIALOG (object);

  g_object_unref (self->cards);
  g_ptr_array_unref (self->in_run);
  g_free (self->station);

  G_OBJECT_CLASS (tpt_cards_dialog_parent_class)->finalize (object);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/cards/tpt-cards-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, content);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, list);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, pages);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, overall);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, cancel);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, close);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, sort);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, take_this);
  gtk_widget_class_bind_template_child (widget_class, TptCardsDialog, take);
  gtk_widget_class_bind_template_callback (widget_class, choose_cb);
  gtk_widget_class_bind_template_callback (widget_class, selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, tpt_cards_stop);
  gtk_widget_class_bind_template_callback (widget_class, tpt_cards_take_all);
  gtk_widget_class_bind_template_callback (widget_class, tpt_cards_take_selected);
  gtk_widget_class_bind_template_callback (widget_class, tpt_cards_sort_selected);
}

static void
tpt_cards_dialog_class_init (TptCardsDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_cards_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_cards_dialog_finalize;
  widget_class->unrealize = tpt_cards_dialog_unrealize;
  GTK_WINDOW_CLASS (klass)->close_request = tpt_cards_dialog_close_request;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK, take_shortcut_cb, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_o, GDK_CONTROL_MASK, choose_shortcut_cb, NULL);
  bind_template (widget_class);
}

static void
tpt_cards_dialog_init (TptCardsDialog *self)
{
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  tpt_style_add ("/io/github/tapetum/Tapetum/cards/cards.css");
  self->cards = g_list_store_new (TPT_TYPE_CARD);
  self->in_run = g_ptr_array_new_with_free_func (g_object_unref);
  self->sources = tpt_card_sources_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (drop, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}

TptCardsDialog *
tpt_cards_dialog_new (GtkWindow *parent, TptProject *project, const char *station)
{
  TptCardsDialog *self = g_object_new (TPT_TYPE_CARDS_DIALOG, "transient-for", parent, NULL);

  self->project = g_object_ref (project);
  self->station = g_strdup (station);
  tpt_cards_update (self);
  g_signal_connect_object (self->sources, "added", G_CALLBACK (mounted_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->sources, "removed", G_CALLBACK (unmounted_cb), self, G_CONNECT_SWAPPED);
  tpt_card_sources_start (self->sources);
  return self;
}

/* (transfer none) (nullable): the one that shows already. */
static TptCardsDialog *
find_window (GtkWindow *parent, TptProject *project)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (TPT_IS_CARDS_DIALOG (window) && gtk_window_get_transient_for (window) == parent
          && TPT_CARDS_DIALOG (window)->project == project)
        return TPT_CARDS_DIALOG (window); /* the toolkit keeps it */
    }
  return NULL;
}

void
tpt_cards_dialog_present (GtkWindow *parent, TptProject *project, const char *station, const char *const *folders)
{
  TptCardsDialog *self = find_window (parent, project);

  if (self == NULL)
    self = tpt_cards_dialog_new (parent, project, station);
  gtk_window_present (GTK_WINDOW (self));
  for (guint i = 0; folders != NULL && folders[i] != NULL; i++)
    add_given (self, folders[i]);
}
