app_name = "labels"
urlpatterns = []
